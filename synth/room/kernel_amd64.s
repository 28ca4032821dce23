#include "go_asm.h"
#include "textflag.h"

// DIFFUSE sends X0 through a diffuser; what comes out is in X1.
#define DIFFUSE(i) \
	MOVQ   (network_diffusers+i*24)(R8), R10; \
	MOVUPS (R10)(CX*1), X1;                   \
	MOVAPS X1, X2;                            \
	MULPS  X15, X2;                           \
	ADDPS  X2, X0;                            \
	MOVUPS X0, (R10)(CX*1);                   \
	MULPS  X15, X0;                           \
	SUBPS  X0, X1

// LISTEN reads what comes out of a line, dull, into a register. The samples before are
// the same, moved on by one: its last comes first, and makes room for the one before all.
#define LISTEN(i, out) \
	MOVQ   (network_lines+i*24)(R8), R10;    \
	MOVUPS (R10)(CX*1), out;                 \
	MOVSS  (network_before+i*4)(R8), X10;    \
	MOVAPS out, X9;                          \
	SHUFPS $0x93, X9, X9;                    \
	MOVSS  X9, (network_before+i*4)(R8);     \
	MOVSS  X10, X9;                          \
	SUBPS  out, X9;                          \
	MULPS  X14, X9;                          \
	ADDPS  X9, out

// SIDE adds three lines to a side at an address, the third the other way round.
#define SIDE(address, a, b, c) \
	MOVAPS a, X9;                \
	ADDPS  b, X9;                \
	SUBPS  c, X9;                \
	MULPS  X12, X9;              \
	MOVUPS (address)(CX*1), X10; \
	ADDPS  X10, X9;              \
	MOVUPS X9, (address)(CX*1)

// FEED writes what goes into a line.
#define FEED(i, out) \
	MOVQ   (network_lines+i*24)(R8), R10;     \
	MOVUPS (network_feedback+i*16)(R8), X9;   \
	SUBPS  X8, out;                           \
	MULPS  X9, out;                           \
	ADDPS  X1, out;                           \
	MOVUPS out, (R10)(CX*1)

// func answerSSE2(left, right, sound []float32, n *network)
TEXT ·answerSSE2(SB), NOSPLIT, $0-80
	MOVQ   left_base+0(FP), DI
	MOVQ   right_base+24(FP), DX
	MOVQ   sound_base+48(FP), SI
	MOVQ   sound_len+56(FP), BX
	MOVQ   n+72(FP), R8
	MOVUPS network_diffusion(R8), X15
	MOVUPS network_dull(R8), X14
	MOVUPS network_mean(R8), X13
	MOVUPS network_level(R8), X12
	SHLQ   $2, BX                      // bytes
	XORQ   CX, CX

four:
	CMPQ   CX, BX
	JGE    end
	MOVUPS (SI)(CX*1), X0
	DIFFUSE(0)
	MOVAPS X1, X0
	DIFFUSE(1)
	LISTEN(0, X2)
	LISTEN(1, X3)
	LISTEN(2, X4)
	LISTEN(3, X5)
	LISTEN(4, X6)
	LISTEN(5, X7)

	MOVAPS X2, X8
	ADDPS  X3, X8
	MOVAPS X4, X9
	ADDPS  X5, X9
	ADDPS  X9, X8
	MOVAPS X6, X9
	ADDPS  X7, X9
	ADDPS  X9, X8
	MULPS  X13, X8 // twice their mean

	SIDE(DI, X2, X3, X4)
	SIDE(DX, X5, X6, X7)
	FEED(0, X2)
	FEED(1, X3)
	FEED(2, X4)
	FEED(3, X5)
	FEED(4, X6)
	FEED(5, X7)
	ADDQ   $16, CX
	JMP    four

end:
	RET
