#include "textflag.h"

// func addSSE2(dst, src []float32, gain float32)
TEXT ·addSSE2(SB), NOSPLIT, $0-52
	MOVQ   dst_base+0(FP), DI
	MOVQ   src_base+24(FP), SI
	MOVQ   src_len+32(FP), CX
	MOVSS  gain+48(FP), X0
	SHUFPS $0, X0, X0

sixteen:
	CMPQ   CX, $16
	JLT    one
	MOVUPS 0(SI), X1
	MOVUPS 16(SI), X2
	MOVUPS 32(SI), X3
	MOVUPS 48(SI), X4
	MULPS  X0, X1
	MULPS  X0, X2
	MULPS  X0, X3
	MULPS  X0, X4
	MOVUPS 0(DI), X5
	MOVUPS 16(DI), X6
	MOVUPS 32(DI), X7
	MOVUPS 48(DI), X8
	ADDPS  X5, X1
	ADDPS  X6, X2
	ADDPS  X7, X3
	ADDPS  X8, X4
	MOVUPS X1, 0(DI)
	MOVUPS X2, 16(DI)
	MOVUPS X3, 32(DI)
	MOVUPS X4, 48(DI)
	ADDQ   $64, SI
	ADDQ   $64, DI
	SUBQ   $16, CX
	JMP    sixteen

one:
	TESTQ CX, CX
	JEQ   done
	MOVSS (SI), X1
	MULSS X0, X1
	ADDSS (DI), X1
	MOVSS X1, (DI)
	ADDQ  $4, SI
	ADDQ  $4, DI
	DECQ  CX
	JMP   one

done:
	RET

// func addDampedSSE2(dst, src, factors []float32, gain float32)
TEXT ·addDampedSSE2(SB), NOSPLIT, $0-76
	MOVQ   dst_base+0(FP), DI
	MOVQ   src_base+24(FP), SI
	MOVQ   src_len+32(FP), CX
	MOVQ   factors_base+48(FP), DX
	MOVSS  gain+72(FP), X0
	SHUFPS $0, X0, X0

damped:
	TESTQ  CX, CX
	JEQ    ended
	MOVUPS (SI), X1
	MOVUPS (DX), X2
	MOVUPS (DI), X3
	MULPS  X0, X1
	MULPS  X2, X1
	ADDPS  X3, X1
	MOVUPS X1, (DI)
	ADDQ   $16, SI
	ADDQ   $16, DX
	ADDQ   $16, DI
	SUBQ   $4, CX
	JMP    damped

ended:
	RET
