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

DATA unsigned<>+0(SB)/8, $0x7fffffff7fffffff
DATA unsigned<>+8(SB)/8, $0x7fffffff7fffffff
GLOBL unsigned<>(SB), RODATA|NOPTR, $16

// LARGEST leaves the largest of the four numbers of X0 in it.
#define LARGEST \
	MOVAPS X0, X1;      \
	SHUFPS $0x4e, X1, X1; \
	MAXPS  X1, X0;      \
	MOVAPS X0, X1;      \
	SHUFPS $0xb1, X1, X1; \
	MAXPS  X1, X0

// func magnitudeSSE2(samples []float32) float32
TEXT ·magnitudeSSE2(SB), NOSPLIT, $0-28
	MOVQ   samples_base+0(FP), SI
	MOVQ   samples_len+8(FP), CX
	MOVUPS unsigned<>(SB), X15
	XORPS  X0, X0
	XORPS  X2, X2
	XORPS  X4, X4
	XORPS  X6, X6

sixteen:
	TESTQ  CX, CX
	JEQ    found
	MOVUPS 0(SI), X1
	MOVUPS 16(SI), X3
	MOVUPS 32(SI), X5
	MOVUPS 48(SI), X7
	ANDPS  X15, X1
	ANDPS  X15, X3
	ANDPS  X15, X5
	ANDPS  X15, X7
	MAXPS  X1, X0
	MAXPS  X3, X2
	MAXPS  X5, X4
	MAXPS  X7, X6
	ADDQ   $64, SI
	SUBQ   $16, CX
	JMP    sixteen

found:
	MAXPS X2, X0
	MAXPS X6, X4
	MAXPS X4, X0
	LARGEST
	MOVSS X0, ret+24(FP)
	RET

// PAIR adds to the sums what two taps at equal distance from the middle give.
#define PAIR(k) \
	MOVUPS (k*4)(SI), X5;       \
	MOVUPS (44-k*4)(SI), X6;    \
	MOVAPS X5, X7;              \
	ADDPS  X6, X5;              \
	SUBPS  X6, X7;              \
	MOVUPS (k*64)(R8), X8;      \
	MULPS  X5, X8;              \
	ADDPS  X8, X1;              \
	MOVUPS (k*64+16)(R8), X9;   \
	MULPS  X7, X9;              \
	ADDPS  X9, X2;              \
	MOVUPS (k*64+32)(R8), X8;   \
	MULPS  X5, X8;              \
	ADDPS  X8, X3;              \
	MOVUPS (k*64+48)(R8), X9;   \
	MULPS  X7, X9;              \
	ADDPS  X9, X4

// func interpolateSSE2(samples []float32) float32
//
// X1 to X4 are the sums of even and odd of the first phase, and of the second.
TEXT ·interpolateSSE2(SB), NOSPLIT, $0-28
	MOVQ   samples_base+0(FP), SI
	MOVQ   samples_len+8(FP), CX
	SUBQ   $11, CX
	LEAQ   ·peakSums(SB), R8
	MOVUPS unsigned<>(SB), X15
	XORPS  X0, X0

four:
	CMPQ  CX, $4
	JLT   done
	XORPS X1, X1
	XORPS X2, X2
	XORPS X3, X3
	XORPS X4, X4
	PAIR(0)
	PAIR(1)
	PAIR(2)
	PAIR(3)
	PAIR(4)
	PAIR(5)
	ANDPS X15, X1
	ANDPS X15, X2
	ANDPS X15, X3
	ANDPS X15, X4
	ADDPS X2, X1
	ADDPS X4, X3
	MAXPS X1, X0
	MAXPS X3, X0
	ADDQ  $16, SI
	SUBQ  $4, CX
	JMP   four

done:
	LARGEST
	MOVSS X0, ret+24(FP)
	RET
