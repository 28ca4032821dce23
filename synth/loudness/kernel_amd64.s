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
