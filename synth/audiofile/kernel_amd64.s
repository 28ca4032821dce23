#include "textflag.h"

// SHIFT makes the next two numbers of two lanes, in a register.
#define SHIFT(x) \
	MOVOU x, X4;  \
	PSLLQ $13, X4; \
	PXOR  X4, x;  \
	MOVOU x, X4;  \
	PSRLQ $7, X4; \
	PXOR  X4, x;  \
	MOVOU x, X4;  \
	PSLLQ $17, X4; \
	PXOR  X4, x

// func noiseSSE2(noise []uint64, lanes *[noiseLanes]uint64)
TEXT ·noiseSSE2(SB), NOSPLIT, $0-32
	MOVQ  noise_base+0(FP), DI
	MOVQ  noise_len+8(FP), CX
	MOVQ  lanes+24(FP), R8
	MOVOU 0(R8), X0
	MOVOU 16(R8), X1
	MOVOU 32(R8), X2
	MOVOU 48(R8), X3

eight:
	TESTQ CX, CX
	JEQ   made
	SHIFT(X0)
	SHIFT(X1)
	SHIFT(X2)
	SHIFT(X3)
	MOVOU X0, 0(DI)
	MOVOU X1, 16(DI)
	MOVOU X2, 32(DI)
	MOVOU X3, 48(DI)
	ADDQ  $64, DI
	SUBQ  $8, CX
	JMP   eight

made:
	MOVOU X0, 0(R8)
	MOVOU X1, 16(R8)
	MOVOU X2, 32(R8)
	MOVOU X3, 48(R8)
	RET

// Each constant four times, but for the first: 1 and −1 as words.
DATA difference<>+0(SB)/8, $0xffff0001ffff0001
DATA difference<>+8(SB)/8, $0xffff0001ffff0001
GLOBL difference<>(SB), RODATA|NOPTR, $16
DATA part<>+0(SB)/8, $0x3780000037800000 // 1/65536
DATA part<>+8(SB)/8, $0x3780000037800000
GLOBL part<>(SB), RODATA|NOPTR, $16
DATA most<>+0(SB)/8, $0x4780000047800000 // 65536
DATA most<>+8(SB)/8, $0x4780000047800000
GLOBL most<>(SB), RODATA|NOPTR, $16
DATA least<>+0(SB)/8, $0xc7800000c7800000 // −65536
DATA least<>+8(SB)/8, $0xc7800000c7800000
GLOBL least<>(SB), RODATA|NOPTR, $16

// func ditherSSE2(pcm []byte, left, right []float32, noise []uint64, scale float32)
//
// Left and right take turns in the registers, as they do in a file.
TEXT ·ditherSSE2(SB), NOSPLIT, $0-100
	MOVQ   pcm_base+0(FP), DI
	MOVQ   left_base+24(FP), SI
	MOVQ   right_base+48(FP), DX
	MOVQ   noise_base+72(FP), BX
	MOVQ   noise_len+80(FP), CX
	MOVUPS difference<>(SB), X15
	MOVUPS part<>(SB), X14
	MOVSS  scale+96(FP), X13
	SHUFPS $0, X13, X13
	MOVUPS most<>(SB), X12
	MOVUPS least<>(SB), X11

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
	MOVUPS   X2, (DI)
	ADDQ     $32, BX
	ADDQ     $16, SI
	ADDQ     $16, DX
	ADDQ     $16, DI
	SUBQ     $4, CX
	JMP      four

end:
	RET
