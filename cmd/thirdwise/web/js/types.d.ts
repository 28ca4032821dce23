// What the engine and the pages hand each other, as the Go code writes it, and
// what the bundler puts in place of an import.

/** Text that is bundled when the page is built: a worker, a worklet. */
declare module "bundled:*" {
  const text: string;
  export default text;
}
declare module "go:wasm_exec" {}

interface Note { pitch: string; string: number; fret: number }
interface Third {
  tick: number; length: number; role: string; leadsBack?: boolean;
  lower: Note; upper: Note;
}
interface Chord { tick: number; length: number; symbol: string; shape?: string; numeral?: string; grip?: string }
interface Bar { number: number; played: number; tick: number; section?: string; chords: Chord[] }
interface Part { number: number; name: string }
interface Mix { name: string; parts: number[] }
interface Box { x: number; y: number; width: number; height: number; row: number; ticks: number[]; xs: number[] }
interface Row { svg: string; shown: number; third: number; strings?: number[] }
interface Strip { width: number; staves: string; outlines: string; rows: Row[]; bars: Box[] }

/** web.Piece */
interface Piece {
  title: string; note?: string[]; key: string; meter: string; feel: string; tempos: number[];
  countIn: number; passes: number; climb?: number; density: number; grid: string;
  tuning: string[]; capo: number; position: string; ticksPerQuarter: number;
  bars: Bar[]; line: Third[];
  name: string; gain: number; lead: number; barTicks: number; beat: number; pickup: boolean;
  parts: Part[]; presets: Mix[]; played: number[]; written: number[]; caution: string; clickEnds?: boolean;
}

/** What a practice page holds. */
interface PageContents { piece: Piece; strips: Strip[]; score: unknown /* or its JSON */ }

/** A bar that is going to be heard. */
interface PlannedBar {
  serial: number;
  bar: number;      // index into Piece.bars, -1 for a bar of click alone
  tempo: number;
  start: number;    // frame of the stream
  length: number;   // frames
  round: number;    // from 1
  ends: boolean;
  answer: boolean;  // the student's turn
}

/** A stretch of the samples of one bar. */
type Blocks = (Float32Array | null)[];

declare const thirdwise: Record<string, (...args: any[]) => any>;
declare class Go { importObject: WebAssembly.Imports; run(instance: WebAssembly.Instance): Promise<void> }

// The worklet's global scope.
declare class AudioWorkletProcessor { readonly port: MessagePort }
declare function registerProcessor(name: string, processor: unknown): void;
declare const currentFrame: number;
