/** Pictures: their shapes go where their numbers are. */

import { redrawFigure } from "./figure.js";
import { sceneOf } from "./page_scene.js";

/** The pictures of a page. */
export class PageFigures {
  /**
   * @param {Document} document
   * @param {{pictures: object[]}} island
   */
  constructor(document, { pictures }) {
    this.pictures = pictures.map((short, number) => {
      const scene = sceneOf(short);
      const svg = document.querySelector(`svg[data-name="picture-${number}"]`);
      const shapes = [...svg.querySelectorAll("[data-e], .beyond")];
      return { scene, svg, before: shapes.map((node) => ({ node, copy: node.cloneNode(false) })) };
    });
  }

  /** Shapes go at once; the bands of lines belong to the readings as they are, and are left away. */
  show({ values }) {
    const valueOf = (place) => values[place] ?? NaN;
    for (const { scene, svg } of this.pictures) redrawFigure(svg, scene, valueOf);
  }

  /** Everything as it was reported. */
  restore() {
    for (const { node, copy } of this.pictures.flatMap(({ before }) => before)) {
      for (const name of node.getAttributeNames()) if (!copy.hasAttribute(name)) node.removeAttribute(name);
      for (const name of copy.getAttributeNames()) node.setAttribute(name, copy.getAttribute(name));
    }
  }
}
