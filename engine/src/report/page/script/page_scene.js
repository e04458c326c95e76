/** What moves in a picture, from the one list of whole numbers that `engine/src/report/page/pictures.rs` writes. */

/**
 * @param {{frame: number[], numbers: number[], code: number[]}} short
 * @returns {{frame: number[], moving: object[]}} as `redrawFigure` takes it, with places where it has slots
 */
export function sceneOf(short) {
  const moving = [];
  const reader = new SceneReader(short);
  while (!reader.isDone()) moving.push(reader.shape());
  return { frame: short.frame, moving };
}

class SceneReader {
  constructor({ numbers, code }) {
    this.numbers = numbers;
    this.code = code;
    this.at = 0;
  }

  isDone() {
    return this.at >= this.code.length;
  }

  whole() {
    this.at += 1;
    return this.code[this.at - 1];
  }

  fixed() {
    return this.numbers[this.whole()];
  }

  several(count, one) {
    return Array.from({ length: count }, one);
  }

  coordinate() {
    const terms = this.whole();
    const fixed = this.fixed();
    if (terms === 0) return fixed;
    return [fixed, ...this.several(terms, () => [this.fixed(), this.whole(), this.whole()]).flat()];
  }

  spot() {
    return [this.coordinate(), this.coordinate()];
  }

  number() {
    const place = this.whole();
    return place < 0 ? this.fixed() : [place];
  }

  region() {
    const [across, up] = this.several(2, () => this.several(this.whole(), () => this.fixed()));
    return { kind: "region", across, up, margins: this.several(across.length * up.length, () => this.number()) };
  }

  shape() {
    const spot = () => this.spot();
    const number = () => this.number();
    switch (this.whole()) {
      case 0: {
        const closed = this.whole() === 1;
        return { kind: "line", closed, places: this.several(this.whole(), spot) };
      }
      case 1: {
        const curve = this.whole();
        const count = this.whole();
        const across = this.several(count, () => this.coordinate());
        const [xs, ys] = [this.several(count, number), this.several(count, number)];
        return { kind: "band", curve, across, xs, ys, scale: [this.fixed(), this.fixed(), this.whole()] };
      }
      case 2:
        return { kind: "box", corners: [spot(), spot()] };
      case 3:
        return { kind: "ellipse", centre: spot(), radii: spot() };
      case 4:
        return { kind: "arc", centre: spot(), radii: [this.fixed(), this.fixed()], angles: spot() };
      case 5:
        return { kind: "at", at: spot() };
      case 6:
        return this.region();
      default:
        return { kind: "none" };
    }
  }
}
