// What a page is like to read: barriers, words in pictures that are too pale, and whether it goes beyond the screen, at the
// widths given, light and dark.

export async function scenario({ open, barriers, given }) {
  const found = [];
  for (const width of given.widths) {
    for (const colorScheme of ["light", "dark"]) {
      const page = await open(given.page, { width, colorScheme });
      await page.evaluate(() => document.querySelectorAll("details").forEach((details) => (details.open = true)));
      const overflow = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      found.push({ width, colorScheme, overflow, barriers: await barriers(page), pale: await page.evaluate(paleWords) });
      await page.context().close();
    }
  }
  return found;
}

/**
 * Words in pictures whose contrast with the page is below 4.5 to 1: an accessibility library takes their colour from what
 * letters have outside of pictures. Contrast as WCAG 2.2 defines it.
 */
function paleWords() {
  const numbers = (colour) => (colour.match(/[\d.]+/g) ?? []).map(Number);
  const light = (colour) => {
    const [r, g, b] = numbers(colour).map((part) => {
      const share = part / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const behind = (element) => {
    for (let at = element; at; at = at.parentElement) {
      const colour = getComputedStyle(at).backgroundColor;
      if ((numbers(colour)[3] ?? 1) > 0) return colour;
    }
    return "rgb(255, 255, 255)";
  };
  return [...document.querySelectorAll("svg.figure text:not([hidden])")].flatMap((text) => {
    const [a, b] = [light(getComputedStyle(text).fill), light(behind(text.ownerSVGElement))];
    const contrast = (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
    return contrast < 4.5 ? [`${text.textContent}: ${contrast.toFixed(2)}`] : [];
  });
}
