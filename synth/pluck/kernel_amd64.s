#include "go_asm.h"
#include "textflag.h"

// NEXT makes the next samples of an oscillator from the last ones; they take the place of
// those before.
#define NEXT(i, last, before, squared) \
	VBROADCASTSD (bank_factor+i*8)(R8), Y12; \
	VMULPD       last, Y12, Y12;             \
	VMULPD       squared, before, before;    \
	VADDPD       before, Y12, before

// SUM adds four oscillators to the samples at a place.
#define SUM(at, a, b, c, d) \
	VADDPD  c, a, Y13;          \
	VADDPD  d, b, Y14;          \
	VADDPD  Y14, Y13, Y13;      \
	VADDPD  (at)(DI), Y13, Y13; \
	VMOVUPD Y13, (at)(DI)

// func ringAVX2(dst []float64, b *bank)
TEXT ·ringAVX2(SB), NOSPLIT, $0-32
	MOVQ         dst_base+0(FP), DI
	MOVQ         dst_len+8(FP), CX
	MOVQ         b+24(FP), R8
	VMOVUPD      (bank_last+0)(R8), Y0
	VMOVUPD      (bank_last+32)(R8), Y1
	VMOVUPD      (bank_last+64)(R8), Y2
	VMOVUPD      (bank_last+96)(R8), Y3
	VMOVUPD      (bank_before+0)(R8), Y4
	VMOVUPD      (bank_before+32)(R8), Y5
	VMOVUPD      (bank_before+64)(R8), Y6
	VMOVUPD      (bank_before+96)(R8), Y7
	VBROADCASTSD (bank_squared+0)(R8), Y8
	VBROADCASTSD (bank_squared+8)(R8), Y9
	VBROADCASTSD (bank_squared+16)(R8), Y10
	VBROADCASTSD (bank_squared+24)(R8), Y11

eight:
	TESTQ CX, CX
	JEQ   end
	NEXT(0, Y0, Y4, Y8)
	NEXT(1, Y1, Y5, Y9)
	NEXT(2, Y2, Y6, Y10)
	NEXT(3, Y3, Y7, Y11)
	SUM(0, Y4, Y5, Y6, Y7)
	NEXT(0, Y4, Y0, Y8)
	NEXT(1, Y5, Y1, Y9)
	NEXT(2, Y6, Y2, Y10)
	NEXT(3, Y7, Y3, Y11)
	SUM(32, Y0, Y1, Y2, Y3)
	ADDQ  $64, DI
	SUBQ  $8, CX
	JMP   eight

end:
	VMOVUPD Y0, (bank_last+0)(R8)
	VMOVUPD Y1, (bank_last+32)(R8)
	VMOVUPD Y2, (bank_last+64)(R8)
	VMOVUPD Y3, (bank_last+96)(R8)
	VMOVUPD Y4, (bank_before+0)(R8)
	VMOVUPD Y5, (bank_before+32)(R8)
	VMOVUPD Y6, (bank_before+64)(R8)
	VMOVUPD Y7, (bank_before+96)(R8)
	VZEROUPPER
	RET
