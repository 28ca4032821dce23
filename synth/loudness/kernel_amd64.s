#include "go_asm.h"
#include "textflag.h"

// SAMPLE adds to the share of a side in this group, and in the next one, what its sample
// at a place on the stack gives. The factors of both are in Y12 and Y13.
#define SAMPLE(at, share, next) \
	VBROADCASTSD at(SP), Y5;   \
	VMULPD       Y12, Y5, Y6;  \
	VADDPD       Y6, share, share; \
	VMULPD       Y13, Y5, Y6;  \
	VADDPD       Y6, next, next

// RESULT makes of a side's share and of its results before the results of this group.
#define RESULT(share, result) \
	VPERM2F128 $0x11, result, result, Y5; \
	VPERM2F128 $0x00, result, result, Y6; \
	VUNPCKHPD  Y5, Y5, Y7;   \
	VUNPCKLPD  Y5, Y5, Y5;   \
	VMULPD     Y8, Y7, Y7;   \
	VMULPD     Y9, Y5, Y5;   \
	VADDPD     Y5, Y7, Y7;   \
	VUNPCKHPD  Y6, Y6, Y5;   \
	VUNPCKLPD  Y6, Y6, Y6;   \
	VMULPD     Y10, Y5, Y5;  \
	VMULPD     Y11, Y6, Y6;  \
	VADDPD     Y6, Y5, Y5;   \
	VADDPD     Y5, Y7, Y7;   \
	VADDPD     Y7, share, result

// func weighAVX2(left, right []float32, f *kFactors, k *kState, sums *quad)
//
// Y0 and Y1 are the shares of left and right in the group at hand, Y14 and Y15 those in
// the next one, Y2 and Y3 the results, Y4 the sums of squares.
TEXT ·weighAVX2(SB), NOSPLIT, $64-72
	MOVQ    left_base+0(FP), SI
	MOVQ    left_len+8(FP), CX
	MOVQ    right_base+24(FP), DX
	MOVQ    f+48(FP), R8
	MOVQ    k+56(FP), R9
	VMOVUPD (kState_share+0)(R9), Y0
	VMOVUPD (kState_share+32)(R9), Y1
	VMOVUPD (kState_result+0)(R9), Y2
	VMOVUPD (kState_result+32)(R9), Y3
	VMOVUPD (kFactors_back+96)(R8), Y8
	VMOVUPD (kFactors_back+64)(R8), Y9
	VMOVUPD (kFactors_back+32)(R8), Y10
	VMOVUPD (kFactors_back+0)(R8), Y11
	VXORPD  Y4, Y4, Y4

next:
	TESTQ     CX, CX
	JEQ       end
	VCVTPS2PD (SI), Y5
	VCVTPS2PD (DX), Y6
	VMOVUPD   Y5, 0(SP)
	VMOVUPD   Y6, 32(SP)
	VXORPD    Y14, Y14, Y14
	VXORPD    Y15, Y15, Y15
	VMOVUPD   (kFactors_now+0)(R8), Y12
	VMOVUPD   (kFactors_later+0)(R8), Y13
	SAMPLE(0, Y0, Y14)
	SAMPLE(32, Y1, Y15)
	VMOVUPD   (kFactors_now+32)(R8), Y12
	VMOVUPD   (kFactors_later+32)(R8), Y13
	SAMPLE(8, Y0, Y14)
	SAMPLE(40, Y1, Y15)
	VMOVUPD   (kFactors_now+64)(R8), Y12
	VMOVUPD   (kFactors_later+64)(R8), Y13
	SAMPLE(16, Y0, Y14)
	SAMPLE(48, Y1, Y15)
	VMOVUPD   (kFactors_now+96)(R8), Y12
	VMOVUPD   (kFactors_later+96)(R8), Y13
	SAMPLE(24, Y0, Y14)
	SAMPLE(56, Y1, Y15)
	RESULT(Y0, Y2)
	RESULT(Y1, Y3)
	VMULPD    Y2, Y2, Y5
	VMULPD    Y3, Y3, Y6
	VADDPD    Y6, Y5, Y5
	VADDPD    Y5, Y4, Y4
	VMOVAPD   Y14, Y0
	VMOVAPD   Y15, Y1
	ADDQ      $16, SI
	ADDQ      $16, DX
	SUBQ      $4, CX
	JMP       next

end:
	VMOVUPD Y0, (kState_share+0)(R9)
	VMOVUPD Y1, (kState_share+32)(R9)
	VMOVUPD Y2, (kState_result+0)(R9)
	VMOVUPD Y3, (kState_result+32)(R9)
	MOVQ    sums+64(FP), R8
	VMOVUPD Y4, (R8)
	VZEROUPPER
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
