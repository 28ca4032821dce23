#include "go_asm.h"
#include "textflag.h"

// The bytes from one ring to the next.
#define RING ((const_margin+const_ring+const_margin)*4)

// OUT points a register behind the frames that come out of a delay, of which CX has the
// bytes. The loop counts from below 0 up to there.
#define OUT(i, register) \
	MOVQ (network_from+i*8)(R8), register; \
	LEAQ (network_memory+const_margin*4+i*RING)(R8)(register*4), register; \
	ADDQ CX, register

// DIFFUSE sends Y0 through a diffuser; what comes out is in Y1.
#define DIFFUSE(i, out) \
	VMOVUPS (out)(CX*1), Y1;         \
	VMULPS  Y15, Y1, Y2;             \
	VADDPS  Y2, Y0, Y0;              \
	VMOVUPS Y0, (i*RING)(R15)(CX*1); \
	VMULPS  Y15, Y0, Y0;             \
	VSUBPS  Y0, Y1, Y1

// LISTEN reads what comes out of a line, dull: some of it goes to the sample after it.
#define LISTEN(from, out) \
	VMOVUPS (from)(CX*1), out;        \
	VMOVUPS (-4)(from)(CX*1), Y9;     \
	VSUBPS  out, Y9, Y9;              \
	VMULPS  Y14, Y9, Y9;              \
	VADDPS  Y9, out, out

// SIDE adds three lines to a side at an address, the third the other way round.
#define SIDE(address, a, b, c) \
	VADDPS  b, a, Y9;                \
	VSUBPS  c, Y9, Y9;               \
	VMULPS  Y12, Y9, Y9;             \
	VADDPS  (address)(CX*1), Y9, Y9; \
	VMOVUPS Y9, (address)(CX*1)

// FEED writes what goes into a line.
#define FEED(i, out) \
	VBROADCASTSS (network_feedback+i*4)(R8), Y9; \
	VSUBPS       Y8, out, out;                   \
	VMULPS       Y9, out, out;                   \
	VADDPS       Y1, out, out;                   \
	VMOVUPS      out, ((const_diffusers+i)*RING)(R15)(CX*1)

// func answerAVX2(left, right, sound []float32, n *network)
TEXT ·answerAVX2(SB), NOSPLIT, $0-80
	MOVQ         left_base+0(FP), DI
	MOVQ         right_base+24(FP), DX
	MOVQ         sound_base+48(FP), SI
	MOVQ         sound_len+56(FP), CX
	MOVQ         n+72(FP), R8
	VBROADCASTSS network_diffusion(R8), Y15
	VBROADCASTSS network_dull(R8), Y14
	VBROADCASTSS network_mean(R8), Y13
	VBROADCASTSS network_level(R8), Y12
	SHLQ         $2, CX
	ADDQ         CX, DI
	ADDQ         CX, DX
	ADDQ         CX, SI
	OUT(0, AX)
	OUT(1, R9)
	OUT(2, R10)
	OUT(3, R11)
	OUT(4, R12)
	OUT(5, R13)
	OUT(6, R14)
	OUT(7, BX)
	MOVQ         network_at(R8), R15
	LEAQ         (network_memory+const_margin*4)(R8)(R15*4), R15
	ADDQ         CX, R15
	NEGQ         CX

eight:
	TESTQ   CX, CX
	JEQ     end
	VMOVUPS (SI)(CX*1), Y0
	DIFFUSE(0, AX)
	VMOVAPS Y1, Y0
	DIFFUSE(1, R9)
	LISTEN(R10, Y2)
	LISTEN(R11, Y3)
	LISTEN(R12, Y4)
	LISTEN(R13, Y5)
	LISTEN(R14, Y6)
	LISTEN(BX, Y7)
	VADDPS  Y3, Y2, Y8
	VADDPS  Y5, Y4, Y9
	VADDPS  Y9, Y8, Y8
	VADDPS  Y7, Y6, Y9
	VADDPS  Y9, Y8, Y8
	VMULPS  Y13, Y8, Y8 // twice their mean
	SIDE(DI, Y2, Y3, Y4)
	SIDE(DX, Y5, Y6, Y7)
	FEED(0, Y2)
	FEED(1, Y3)
	FEED(2, Y4)
	FEED(3, Y5)
	FEED(4, Y6)
	FEED(5, Y7)
	ADDQ    $32, CX
	JMP     eight

end:
	VZEROUPPER
	RET
