#include "go_asm.h"
#include "textflag.h"

// func weighSSE2(left, right []float32, f *kFactors, k *kState) pair
//
// The low half of each register is the left side, the high half the right.
TEXT ·weighSSE2(SB), NOSPLIT, $0-80
	MOVQ left_base+0(FP), SI
	MOVQ left_len+8(FP), CX
	MOVQ right_base+24(FP), DX
	MOVQ f+48(FP), R8
	MOVQ k+56(FP), R9

	MOVUPD kFactors_in(R8), X0
	MOVUPD kFactors_in1(R8), X1
	MOVUPD kFactors_in2(R8), X2
	MOVUPD kFactors_back1(R8), X3
	MOVUPD kFactors_high1(R8), X4
	MOVUPD kFactors_high2(R8), X5
	MOVUPD kFactors_again1(R8), X6
	MOVUPD kState_shelf1(R9), X7 // what the shelf remembers
	MOVUPD kState_shelf2(R9), X8
	MOVUPD kState_high1(R9), X9 // what the high-pass remembers
	MOVUPD kState_high2(R9), X10
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
	MOVUPD kFactors_back2(R8), X8
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
	MOVUPD kFactors_again2(R8), X10
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
	MOVUPD X7, kState_shelf1(R9)
	MOVUPD X8, kState_shelf2(R9)
	MOVUPD X9, kState_high1(R9)
	MOVUPD X10, kState_high2(R9)
	MOVSD  X11, ret_0+64(FP)
	UNPCKHPD X11, X11
	MOVSD  X11, ret_1+72(FP)
	RET
