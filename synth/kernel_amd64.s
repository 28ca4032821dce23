#include "textflag.h"

// func addScaledSSE2(dst, src []float32, gain float32)
TEXT ·addScaledSSE2(SB), NOSPLIT, $0-52
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

// func weighSSE2(left, right []float32, f *kFactors, k *kState) pair
//
// The low half of each register is the left side, the high half the right.
TEXT ·weighSSE2(SB), NOSPLIT, $0-80
	MOVQ left_base+0(FP), SI
	MOVQ left_len+8(FP), CX
	MOVQ right_base+24(FP), DX
	MOVQ f+48(FP), R8
	MOVQ k+56(FP), R9

	MOVUPD 0(R8), X0   // in
	MOVUPD 16(R8), X1  // in1
	MOVUPD 32(R8), X2  // in2
	MOVUPD 48(R8), X3  // back1
	MOVUPD 80(R8), X4  // high1
	MOVUPD 96(R8), X5  // high2
	MOVUPD 112(R8), X6 // again1
	MOVUPD 0(R9), X7   // what the shelf remembers
	MOVUPD 16(R9), X8
	MOVUPD 32(R9), X9  // what the high-pass remembers
	MOVUPD 48(R9), X10
	XORPD  X11, X11    // sums of squares

frame:
	TESTQ    CX, CX
	JEQ      end
	MOVSS    (SI), X12
	MOVSS    (DX), X13
	UNPCKLPS X13, X12
	CVTPS2PD X12, X12 // x

	MOVAPD X12, X13
	MULPD  X0, X13
	ADDPD  X7, X13    // y

	MOVAPD X12, X14
	MULPD  X1, X14
	ADDPD  X8, X14
	MOVAPD X7, X15
	MULPD  X3, X15
	SUBPD  X15, X14   // the shelf's first memory to come
	MOVUPD 64(R8), X8 // back2
	MULPD  X7, X8
	MULPD  X2, X12
	SUBPD  X8, X12    // its second
	MOVAPD X14, X7
	MOVAPD X12, X8

	MOVAPD X13, X12
	ADDPD  X9, X12    // z
	MULPD  X12, X12
	ADDPD  X12, X11

	MOVAPD X13, X14
	MULPD  X4, X14
	ADDPD  X10, X14
	MOVAPD X9, X15
	MULPD  X6, X15
	SUBPD  X15, X14     // the high-pass's first memory to come
	MOVUPD 128(R8), X10 // again2
	MULPD  X9, X10
	MULPD  X5, X13
	SUBPD  X10, X13     // its second
	MOVAPD X14, X9
	MOVAPD X13, X10

	ADDQ $4, SI
	ADDQ $4, DX
	DECQ CX
	JMP  frame

end:
	MOVUPD X7, 0(R9)
	MOVUPD X8, 16(R9)
	MOVUPD X9, 32(R9)
	MOVUPD X10, 48(R9)
	MOVSD  X11, ret_0+64(FP)
	UNPCKHPD X11, X11
	MOVSD  X11, ret_1+72(FP)
	RET
