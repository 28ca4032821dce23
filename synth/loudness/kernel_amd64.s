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

DATA unsigned<>+0(SB)/4, $0x7fffffff
GLOBL unsigned<>(SB), RODATA|NOPTR, $4

// LARGEST leaves the largest of the eight numbers of Y0 in X0.
#define LARGEST \
	VEXTRACTF128 $1, Y0, X1;     \
	VMAXPS       X1, X0, X0;     \
	VPERMILPS    $0x4e, X0, X1;  \
	VMAXPS       X1, X0, X0;     \
	VPERMILPS    $0xb1, X0, X1;  \
	VMAXPS       X1, X0, X0

// func magnitudeAVX2(samples []float32) float32
TEXT ·magnitudeAVX2(SB), NOSPLIT, $0-28
	MOVQ         samples_base+0(FP), SI
	MOVQ         samples_len+8(FP), CX
	VBROADCASTSS unsigned<>(SB), Y15
	VXORPS       Y0, Y0, Y0
	VXORPS       Y1, Y1, Y1
	VXORPS       Y2, Y2, Y2
	VXORPS       Y3, Y3, Y3

thirtytwo:
	TESTQ  CX, CX
	JEQ    found
	VANDPS 0(SI), Y15, Y4
	VANDPS 32(SI), Y15, Y5
	VANDPS 64(SI), Y15, Y6
	VANDPS 96(SI), Y15, Y7
	VMAXPS Y4, Y0, Y0
	VMAXPS Y5, Y1, Y1
	VMAXPS Y6, Y2, Y2
	VMAXPS Y7, Y3, Y3
	ADDQ   $128, SI
	SUBQ   $32, CX
	JMP    thirtytwo

found:
	VMAXPS Y1, Y0, Y0
	VMAXPS Y3, Y2, Y2
	VMAXPS Y2, Y0, Y0
	LARGEST
	VMOVSS X0, ret+24(FP)
	VZEROUPPER
	RET

// TAP multiplies by a tap, and adds to a sum.
#define TAP(at, of, sum) \
	VBROADCASTSS (at)(R8), Y8; \
	VMULPS       of, Y8, Y8;   \
	VADDPS       Y8, sum, sum

// PAIR adds to the sums what two taps at equal distance from the middle give.
#define PAIR(k) \
	VMOVUPS (k*4)(SI), Y5;       \
	VMOVUPS (44-k*4)(SI), Y6;    \
	VSUBPS  Y6, Y5, Y7;          \
	VADDPS  Y6, Y5, Y5;          \
	TAP(k*16, Y5, Y1);           \
	TAP(k*16+4, Y7, Y2);         \
	TAP(k*16+8, Y5, Y3);         \
	TAP(k*16+12, Y7, Y4)

// func interpolateAVX2(samples []float32) float32
//
// Y1 to Y4 are the sums of even and odd of the first phase, and of the second.
TEXT ·interpolateAVX2(SB), NOSPLIT, $0-28
	MOVQ         samples_base+0(FP), SI
	MOVQ         samples_len+8(FP), CX
	SUBQ         $11, CX
	LEAQ         ·peakSums(SB), R8
	VBROADCASTSS unsigned<>(SB), Y15
	VXORPS       Y0, Y0, Y0

eight:
	CMPQ   CX, $8
	JLT    done
	VXORPS Y1, Y1, Y1
	VXORPS Y2, Y2, Y2
	VXORPS Y3, Y3, Y3
	VXORPS Y4, Y4, Y4
	PAIR(0)
	PAIR(1)
	PAIR(2)
	PAIR(3)
	PAIR(4)
	PAIR(5)
	VANDPS Y15, Y1, Y1
	VANDPS Y15, Y2, Y2
	VANDPS Y15, Y3, Y3
	VANDPS Y15, Y4, Y4
	VADDPS Y2, Y1, Y1
	VADDPS Y4, Y3, Y3
	VMAXPS Y1, Y0, Y0
	VMAXPS Y3, Y0, Y0
	ADDQ   $32, SI
	SUBQ   $8, CX
	JMP    eight

done:
	LARGEST
	VMOVSS X0, ret+24(FP)
	VZEROUPPER
	RET
