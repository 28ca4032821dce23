#include "textflag.h"

// SHIFT makes the next numbers of four lanes, in a register.
#define SHIFT(x, shifted) \
	VPSLLQ $13, x, shifted; \
	VPXOR  shifted, x, x;   \
	VPSRLQ $7, x, shifted;  \
	VPXOR  shifted, x, x;   \
	VPSLLQ $17, x, shifted; \
	VPXOR  shifted, x, x

// func noiseAVX2(noise []uint64, lanes *[noiseLanes]uint64)
TEXT ·noiseAVX2(SB), NOSPLIT, $0-32
	MOVQ    noise_base+0(FP), DI
	MOVQ    noise_len+8(FP), CX
	MOVQ    lanes+24(FP), R8
	VMOVDQU 0(R8), Y0
	VMOVDQU 32(R8), Y1

eight:
	TESTQ   CX, CX
	JEQ     made
	SHIFT(Y0, Y2)
	SHIFT(Y1, Y3)
	VMOVDQU Y0, 0(DI)
	VMOVDQU Y1, 32(DI)
	ADDQ    $64, DI
	SUBQ    $8, CX
	JMP     eight

made:
	VMOVDQU Y0, 0(R8)
	VMOVDQU Y1, 32(R8)
	VZEROUPPER
	RET

DATA difference<>+0(SB)/4, $0xffff0001 // 1 and −1 as words
GLOBL difference<>(SB), RODATA|NOPTR, $4
DATA part<>+0(SB)/4, $0x37800000 // 1/65536
GLOBL part<>(SB), RODATA|NOPTR, $4
DATA most<>+0(SB)/4, $0x47800000 // 65536
GLOBL most<>(SB), RODATA|NOPTR, $4
DATA least<>+0(SB)/4, $0xc7800000 // −65536
GLOBL least<>(SB), RODATA|NOPTR, $4

// DITHER adds the dither of four frames, in steps, to their samples in whole parts of 1,
// and rounds them.
#define DITHER(samples, noise) \
	VPMADDWD  Y15, noise, noise;     \
	VCVTDQ2PS noise, noise;          \
	VMULPS    Y14, noise, noise;     \
	VMULPS    Y13, samples, samples; \
	VMAXPS    Y11, samples, samples; \
	VMINPS    Y12, samples, samples; \
	VADDPS    noise, samples, samples; \
	VCVTPS2DQ samples, samples

// func ditherAVX2(pcm []byte, left, right []float32, noise []uint64, scale float32)
//
// Left and right take turns in the registers, as they do in a file: Y2 has the first,
// second, fifth and sixth of eight frames, Y3 the others.
TEXT ·ditherAVX2(SB), NOSPLIT, $0-100
	MOVQ         pcm_base+0(FP), DI
	MOVQ         left_base+24(FP), SI
	MOVQ         right_base+48(FP), DX
	MOVQ         noise_base+72(FP), BX
	MOVQ         noise_len+80(FP), CX
	VBROADCASTSS difference<>(SB), Y15
	VBROADCASTSS part<>(SB), Y14
	VBROADCASTSS scale+96(FP), Y13
	VBROADCASTSS most<>(SB), Y12
	VBROADCASTSS least<>(SB), Y11

eight:
	TESTQ       CX, CX
	JEQ         end
	VMOVDQU     0(BX), X0
	VMOVDQU     16(BX), X1
	VINSERTI128 $1, 32(BX), Y0, Y0
	VINSERTI128 $1, 48(BX), Y1, Y1
	VMOVUPS     (SI), Y4
	VMOVUPS     (DX), Y5
	VUNPCKLPS   Y5, Y4, Y2
	VUNPCKHPS   Y5, Y4, Y3
	DITHER(Y2, Y0)
	DITHER(Y3, Y1)
	VPACKSSDW   Y3, Y2, Y2
	VMOVDQU     Y2, (DI)
	ADDQ        $64, BX
	ADDQ        $32, SI
	ADDQ        $32, DX
	ADDQ        $32, DI
	SUBQ        $8, CX
	JMP         eight

end:
	VZEROUPPER
	RET
