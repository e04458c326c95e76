/** Pictures: their shapes go where their numbers are, and the bands of their lines with the ± once it is known. */

import { MovingPicture } from "./figure.js";
import { sceneOf } from "./page_scene.js";

/** The pictures of a page. */
export class PageFigures {
  /**
   * @param {Document} document
   * @param {{pictures: object[], positions: Array<[number, number, number]>}} island
   */
  constructor(document, { pictures, positions }) {
    this.pictures = pictures.map((short, number) => {
      const svg = document.querySelector(`svg[data-name="picture-${number}"]`);
      const shapes = [...svg.querySelectorAll("[data-e], .beyond")];
      const at = positions[svg.closest("[data-at]")?.dataset.at];
      return { moving: new MovingPicture(svg, sceneOf(short)), at, before: shapes.map((node) => ({ node, copy: node.cloneNode(false) })) };
    });
    this.curves = this.pictures.flatMap(({ moving, at }) => moving.bands().map((band) => ({ band, ...curveOf(band, at) })));
  }

  /**
   * @param {{values: Float64Array}} answer
   * @param {{bands: Array<Array<[number, number]> | null>} | null} judged with the bands of `curves`; before it is known, none
   *   is drawn
   */
  show({ values }, judged) {
    const valueOf = (place) => values[place] ?? NaN;
    const ends = new Map(this.curves.map(({ band }, number) => [band, judged?.bands[number] ?? null]));
    for (const { moving } of this.pictures) moving.redraw(valueOf, (band) => ends.get(band));
  }

  /** Everything as it was reported. */
  restore() {
    for (const { moving, before } of this.pictures) {
      moving.forget();
      for (const { node, copy } of before) {
        for (const name of node.getAttributeNames()) if (!copy.hasAttribute(name)) node.removeAttribute(name);
        for (const name of copy.getAttributeNames()) node.setAttribute(name, copy.getAttribute(name));
      }
    }
  }
}

/** A band's line as a study takes it; what was shown before anything was recorded is always reached. */
function curveOf({ xs, ys }, [run, line, guard] = [0, 0, 0]) {
  return { run, at: [line, guard], xs, ys };
}
