#include "textflag.h"

// Each constant four times, but for the first: 1 and −1 as words.
DATA difference<>+0(SB)/8, $0xffff0001ffff0001
DATA difference<>+8(SB)/8, $0xffff0001ffff0001
GLOBL difference<>(SB), RODATA|NOPTR, $16
DATA part<>+0(SB)/8, $0x3780000037800000 // 1/65536
DATA part<>+8(SB)/8, $0x3780000037800000
GLOBL part<>(SB), RODATA|NOPTR, $16
DATA size<>+0(SB)/8, $0x4700000047000000 // 32768
DATA size<>+8(SB)/8, $0x4700000047000000
GLOBL size<>(SB), RODATA|NOPTR, $16
DATA step<>+0(SB)/8, $0x3800000038000000 // 1/32768
DATA step<>+8(SB)/8, $0x3800000038000000
GLOBL step<>(SB), RODATA|NOPTR, $16
DATA most<>+0(SB)/8, $0x4780000047800000 // 65536
DATA most<>+8(SB)/8, $0x4780000047800000
GLOBL most<>(SB), RODATA|NOPTR, $16
DATA least<>+0(SB)/8, $0xc7800000c7800000 // −65536
DATA least<>+8(SB)/8, $0xc7800000c7800000
GLOBL least<>(SB), RODATA|NOPTR, $16

// func ditherSSE2(stepsLeft, stepsRight, left, right []float32, noise []uint64, scale float32)
//
// Left and right take turns in the registers.
TEXT ·ditherSSE2(SB), NOSPLIT, $0-124
	MOVQ   stepsLeft_base+0(FP), DI
	MOVQ   stepsRight_base+24(FP), R8
	MOVQ   left_base+48(FP), SI
	MOVQ   right_base+72(FP), DX
	MOVQ   noise_base+96(FP), BX
	MOVQ   noise_len+104(FP), CX
	MOVUPS difference<>(SB), X15
	MOVUPS part<>(SB), X14
	MOVSS  scale+120(FP), X13
	SHUFPS $0, X13, X13
	MOVUPS most<>(SB), X12
	MOVUPS least<>(SB), X11
	MOVUPS step<>(SB), X10

four:
	TESTQ    CX, CX
	JEQ      end
	MOVUPS   (BX), X0
	MOVUPS   16(BX), X1
	PMADDWL  X15, X0
	PMADDWL  X15, X1
	CVTPL2PS X0, X0
	CVTPL2PS X1, X1
	MULPS    X14, X0
	MULPS    X14, X1
	MOVUPS   (SI), X2
	MOVUPS   (DX), X3
	MOVAPS   X2, X4
	UNPCKLPS X3, X2
	UNPCKHPS X3, X4
	MULPS    X13, X2
	MULPS    X13, X4
	MAXPS    X11, X2
	MAXPS    X11, X4
	MINPS    X12, X2
	MINPS    X12, X4
	ADDPS    X0, X2
	ADDPS    X1, X4
	CVTPS2PL X2, X2
	CVTPS2PL X4, X4
	PACKSSLW X4, X2
	MOVAPS   X2, X3
	PSLLL    $16, X2
	PSRAL    $16, X2
	PSRAL    $16, X3
	CVTPL2PS X2, X2
	CVTPL2PS X3, X3
	MULPS    X10, X2
	MULPS    X10, X3
	MOVUPS   X2, (DI)
	MOVUPS   X3, (R8)
	ADDQ     $32, BX
	ADDQ     $16, SI
	ADDQ     $16, DX
	ADDQ     $16, DI
	ADDQ     $16, R8
	SUBQ     $4, CX
	JMP      four

end:
	RET

// func packSSE2(pcm []byte, left, right []float32)
TEXT ·packSSE2(SB), NOSPLIT, $0-72
	MOVQ   pcm_base+0(FP), DI
	MOVQ   left_base+24(FP), SI
	MOVQ   left_len+32(FP), CX
	MOVQ   right_base+48(FP), DX
	MOVUPS size<>(SB), X13

four:
	TESTQ     CX, CX
	JEQ       end
	MOVUPS    (SI), X0
	MOVUPS    (DX), X1
	MULPS     X13, X0
	MULPS     X13, X1
	CVTTPS2PL X0, X0
	CVTTPS2PL X1, X1
	PSLLL     $16, X0
	PSRLL     $16, X0
	PSLLL     $16, X1
	POR       X1, X0
	MOVUPS    X0, (DI)
	ADDQ      $16, SI
	ADDQ      $16, DX
	ADDQ      $16, DI
	SUBQ      $4, CX
	JMP       four

end:
	RET
