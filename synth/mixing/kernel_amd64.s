#include "textflag.h"

// SIDES sets up what goes from one to both sides, in bytes below 0.
#define SIDES \
	MOVQ         left_base+0(FP), DI;    \
	MOVQ         right_base+24(FP), DX;  \
	MOVQ         src_base+48(FP), SI;    \
	MOVQ         src_len+56(FP), CX;     \
	VBROADCASTSS toLeft+72(FP), Y0;      \
	VBROADCASTSS toRight+76(FP), Y1;     \
	SHLQ         $2, CX;                 \
	ADDQ         CX, DI;                 \
	ADDQ         CX, DX;                 \
	ADDQ         CX, SI;                 \
	NEGQ         CX

// func addSSE2(dst, src []float32, gain float32)
TEXT ·addSSE2(SB), NOSPLIT, $0-52
	MOVQ   dst_base+0(FP), DI
	MOVQ   src_base+24(FP), SI
	MOVQ   src_len+32(FP), CX
	MOVSS  gain+48(FP), X0
	SHUFPS $0, X0, X0

sixteen:
	CMPQ   CX, $16
	JLT    one
	MOVUPS 0(SI), X1
	MOVUPS 16(SI), X2
	MOVUPS 32(SI), X3
	MOVUPS 48(SI), X4
	MULPS  X0, X1
	MULPS  X0, X2
	MULPS  X0, X3
	MULPS  X0, X4
	MOVUPS 0(DI), X5
	MOVUPS 16(DI), X6
	MOVUPS 32(DI), X7
	MOVUPS 48(DI), X8
	ADDPS  X5, X1
	ADDPS  X6, X2
	ADDPS  X7, X3
	ADDPS  X8, X4
	MOVUPS X1, 0(DI)
	MOVUPS X2, 16(DI)
	MOVUPS X3, 32(DI)
	MOVUPS X4, 48(DI)
	ADDQ   $64, SI
	ADDQ   $64, DI
	SUBQ   $16, CX
	JMP    sixteen

one:
	TESTQ CX, CX
	JEQ   done
	MOVSS (SI), X1
	MULSS X0, X1
	ADDSS (DI), X1
	MOVSS X1, (DI)
	ADDQ  $4, SI
	ADDQ  $4, DI
	DECQ  CX
	JMP   one

done:
	RET

// The kernels that follow take whole eights.

// EIGHT adds eight samples times a gain at a place.
#define EIGHT(at, y) \
	VMULPS  at(SI), Y0, y; \
	VADDPS  at(DI), y, y;  \
	VMOVUPS y, at(DI)

// func addAVX2(dst, src []float32, gain float32)
TEXT ·addAVX2(SB), NOSPLIT, $0-52
	MOVQ         dst_base+0(FP), DI
	MOVQ         src_base+24(FP), SI
	MOVQ         src_len+32(FP), CX
	VBROADCASTSS gain+48(FP), Y0

thirtytwo:
	CMPQ CX, $32
	JLT  eight
	EIGHT(0, Y1)
	EIGHT(32, Y2)
	EIGHT(64, Y3)
	EIGHT(96, Y4)
	ADDQ $128, SI
	ADDQ $128, DI
	SUBQ $32, CX
	JMP  thirtytwo

eight:
	TESTQ CX, CX
	JEQ   done
	EIGHT(0, Y1)
	ADDQ  $32, SI
	ADDQ  $32, DI
	SUBQ  $8, CX
	JMP   eight

done:
	VZEROUPPER
	RET

// func addDampedAVX2(dst, src, factors []float32, gain float32)
TEXT ·addDampedAVX2(SB), NOSPLIT, $0-76
	MOVQ         dst_base+0(FP), DI
	MOVQ         src_base+24(FP), SI
	MOVQ         src_len+32(FP), CX
	MOVQ         factors_base+48(FP), DX
	VBROADCASTSS gain+72(FP), Y0

eight:
	TESTQ   CX, CX
	JEQ     done
	VMULPS  (SI), Y0, Y1
	VMULPS  (DX), Y1, Y1
	VADDPS  (DI), Y1, Y1
	VMOVUPS Y1, (DI)
	ADDQ    $32, SI
	ADDQ    $32, DX
	ADDQ    $32, DI
	SUBQ    $8, CX
	JMP     eight

done:
	VZEROUPPER
	RET

// func spreadAVX2(left, right, src []float32, toLeft, toRight float32)
TEXT ·spreadAVX2(SB), NOSPLIT, $0-80
	SIDES

eight:
	TESTQ   CX, CX
	JEQ     done
	VMOVUPS (SI)(CX*1), Y2
	VMULPS  Y0, Y2, Y3
	VMULPS  Y1, Y2, Y2
	VADDPS  (DI)(CX*1), Y3, Y3
	VADDPS  (DX)(CX*1), Y2, Y2
	VMOVUPS Y3, (DI)(CX*1)
	VMOVUPS Y2, (DX)(CX*1)
	ADDQ    $32, CX
	JMP     eight

done:
	VZEROUPPER
	RET

// func placeAVX2(left, right, src []float32, toLeft, toRight float32)
TEXT ·placeAVX2(SB), NOSPLIT, $0-80
	SIDES

eight:
	TESTQ   CX, CX
	JEQ     done
	VMOVUPS (SI)(CX*1), Y2
	VMULPS  Y0, Y2, Y3
	VMULPS  Y1, Y2, Y2
	VMOVUPS Y3, (DI)(CX*1)
	VMOVUPS Y2, (DX)(CX*1)
	ADDQ    $32, CX
	JMP     eight

done:
	VZEROUPPER
	RET

// func sumAVX2(dst, a, b []float32)
TEXT ·sumAVX2(SB), NOSPLIT, $0-72
	MOVQ dst_base+0(FP), DI
	MOVQ a_base+24(FP), SI
	MOVQ a_len+32(FP), CX
	MOVQ b_base+48(FP), DX

eight:
	TESTQ   CX, CX
	JEQ     done
	VMOVUPS (SI), Y0
	VADDPS  (DX), Y0, Y0
	VMOVUPS Y0, (DI)
	ADDQ    $32, SI
	ADDQ    $32, DX
	ADDQ    $32, DI
	SUBQ    $8, CX
	JMP     eight

done:
	VZEROUPPER
	RET
