import { forget, recall, remember } from "./store.js";

/** What was practised of a piece, kept in this browser alone. */
export class Practised {
  /** @param {string} name */
  constructor(name) {
    this.key = `practised:${name}`;
    const kept = recall(this.key);
    this.rounds = Number(kept?.rounds) || 0;
    this.clean = Number(kept?.clean) || 0; // the highest tempo that the student marked as clean; 0 for none
    this.tempo = 0; // of the last round
    this.onChange = () => {};
  }

  /** Counts a time round. @param {number} tempo */
  count(tempo) {
    this.rounds++;
    this.tempo = tempo;
    this.keep();
  }

  /** @param {number} tempo */
  markClean(tempo) {
    this.clean = Math.max(this.clean, tempo);
    this.keep();
  }

  keep() {
    remember(this.key, { rounds: this.rounds, clean: this.clean });
    this.onChange();
  }

  forget() {
    this.rounds = this.clean = 0;
    forget(this.key);
    this.onChange();
  }
}
