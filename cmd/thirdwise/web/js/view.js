import { recall, remember } from "./store.js";

/** @typedef {import("./stand.js").Stand} Stand */

/** How sheet and neck are shown, kept in this browser for all pages. */
export class View {
  /** @param {Stand} stand */
  constructor(stand) {
    this.stand = stand;
    const kept = recall("view");
    this.light = String(kept?.light ?? ""); // as the device, or light, dark
    this.staves = String(kept?.staves ?? "both"); // or tab, notation
    this.large = Boolean(kept?.large);
    this.leftHanded = Boolean(kept?.leftHanded);
    this.neck = kept?.neck !== false;
    /** Told of every change. */
    this.onChange = () => {};
  }

  /** @param {Partial<{light: string, staves: string, large: boolean, leftHanded: boolean, neck: boolean}>} change */
  set(change) {
    Object.assign(this, change);
    const { light, staves, large, leftHanded, neck } = this;
    remember("view", { light, staves, large, leftHanded, neck });
    this.apply();
  }

  apply() {
    const { sheet, neck, player } = this.stand;
    document.documentElement.dataset.light = this.light;
    sheet.staves = this.staves;
    sheet.large = this.large;
    sheet.place.classList.toggle("large", this.large);
    neck.leftHanded = this.leftHanded;
    neck.lay();
    neck.place.hidden = !this.neck;
    sheet.fit();
    sheet.onFit();
    if (!player.playing) this.stand.show(undefined);
    this.onChange();
  }
}
