#include "go_asm.h"
#include "textflag.h"

// NEXT makes the next sample of two oscillators from the last one; it takes the place of
// the one before.
#define NEXT(i, last, before, squared) \
	MOVUPD (bank_factor+i*16)(R8), X15; \
	MULPD  last, X15;                   \
	MULPD  squared, before;             \
	ADDPD  X15, before

// SUM adds up four oscillators of two samples, of each of which two sums are given.
#define SUM(first, second) \
	MOVAPD   first, X15;    \
	UNPCKLPD second, first; \
	UNPCKHPD second, X15;   \
	ADDPD    X15, first

// func ringSSE2(dst []float64, b *bank)
TEXT ·ringSSE2(SB), NOSPLIT, $0-32
	MOVQ   dst_base+0(FP), DI
	MOVQ   dst_len+8(FP), CX
	MOVQ   b+24(FP), R8
	MOVUPD (bank_last+0)(R8), X0
	MOVUPD (bank_last+16)(R8), X1
	MOVUPD (bank_last+32)(R8), X2
	MOVUPD (bank_last+48)(R8), X3
	MOVUPD (bank_before+0)(R8), X4
	MOVUPD (bank_before+16)(R8), X5
	MOVUPD (bank_before+32)(R8), X6
	MOVUPD (bank_before+48)(R8), X7
	MOVUPD (bank_squared+0)(R8), X8
	MOVUPD (bank_squared+16)(R8), X9
	MOVUPD (bank_squared+32)(R8), X10
	MOVUPD (bank_squared+48)(R8), X11

two:
	TESTQ    CX, CX
	JEQ      end
	NEXT(0, X0, X4, X8)
	NEXT(1, X1, X5, X9)
	NEXT(2, X2, X6, X10)
	NEXT(3, X3, X7, X11)
	MOVAPD   X4, X12
	ADDPD    X5, X12
	MOVAPD   X6, X13
	ADDPD    X7, X13
	NEXT(0, X4, X0, X8)
	NEXT(1, X5, X1, X9)
	NEXT(2, X6, X2, X10)
	NEXT(3, X7, X3, X11)
	MOVAPD   X0, X14
	ADDPD    X1, X14
	SUM(X12, X14)
	MOVAPD   X2, X14
	ADDPD    X3, X14
	SUM(X13, X14)
	MOVUPD   (DI), X15
	ADDPD    X12, X15
	ADDPD    X13, X15
	MOVUPD   X15, (DI)
	ADDQ     $16, DI
	SUBQ     $2, CX
	JMP      two

end:
	MOVUPD X0, (bank_last+0)(R8)
	MOVUPD X1, (bank_last+16)(R8)
	MOVUPD X2, (bank_last+32)(R8)
	MOVUPD X3, (bank_last+48)(R8)
	MOVUPD X4, (bank_before+0)(R8)
	MOVUPD X5, (bank_before+16)(R8)
	MOVUPD X6, (bank_before+32)(R8)
	MOVUPD X7, (bank_before+48)(R8)
	RET
