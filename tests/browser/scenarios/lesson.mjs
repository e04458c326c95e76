// A lesson walked by keyboard: what is shown, what is told, the wrong way, the end; then without a script, and on paper.

/** The rows of the line shown, by their margin words. */
const rows = (page) =>
  page.$$eval(".card.now .part:not(.later) > .row", (found) => found.map((row) => row.textContent));
const text = (page, place) => page.$eval(place, (found) => found.textContent);
/** How many rows of the lesson cannot be seen. */
const unseen = (page) =>
  page.$$eval(".part", (parts) => parts.filter((part) => part.getClientRects().length === 0).length);

export async function scenario({ open, barriers, given }) {
  const page = await open(given.page);
  const found = { start: await text(page, "#place"), rows: [], place: [] };
  await page.keyboard.press(" ");
  found.rows.push(await rows(page));
  for (const key of [" ", "ArrowRight", " "]) {
    await page.keyboard.press(key);
    found.rows.push(await rows(page));
  }
  found.told = await text(page, "#told");
  found.place.push(await text(page, "#place"));
  await page.keyboard.press("w");
  found.wrong = await text(page, ".card.now .wrong > li.picked");
  found.barriers = await barriers(page);
  await page.keyboard.press("w");
  await page.keyboard.press(" ");
  found.place.push(await text(page, "#place"));
  await page.keyboard.press("ArrowLeft");
  found.place.push(await text(page, "#place"));
  await page.keyboard.press("End");
  found.end = await text(page, "#place");
  await page.keyboard.press("Home");
  found.barriers.push(...(await barriers(page)));

  await page.emulateMedia({ media: "print" });
  found.on_paper = await unseen(page);
  const still = await open(given.page, { javaScriptEnabled: false });
  found.without_script = await unseen(still);
  const phone = await open(given.page, { width: 390, height: 844, hash: "#line-5" });
  await phone.click("#next");
  found.wider_than_a_phone = await phone.evaluate(() => document.documentElement.scrollWidth);
  return found;
}
