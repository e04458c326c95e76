// A sheet answered: rightly, wrongly, by a slip, without a unit; hints; then the sheets on paper.

export async function scenario({ open, barriers, given }) {
  const page = await open(given.page);
  await page.selectOption("#seat", "2");
  const found = { told: [], hints: [], sheet: await page.$eval(".sheet.now h1", (title) => title.textContent) };
  const question = (await page.$$(".sheet.now .question"))[2];
  const input = await question.$("input");
  for (const typed of given.typed) {
    await input.fill(typed);
    await input.press("Enter");
    found.told.push(await question.$eval(".told", (told) => told.textContent));
  }
  await input.fill(given.typed[0]);
  await input.press("Enter");
  found.score = await page.$eval(".sheet.now .score", (score) => score.textContent);
  const hint = await question.$(".hint");
  await hint.click();
  found.hints.push(
    await question.$eval(".letters [role=math]", (formula) =>
      formula.getClientRects().length > 0 ? formula.getAttribute("aria-label") : "not shown",
    ),
  );
  await hint.click();
  found.hints.push(await question.$eval(".numbers", (numbers) => numbers.textContent));
  found.barriers = await barriers(page);
  await page.emulateMedia({ media: "print" });
  found.sheets_on_paper = await page.$$eval(
    ".sheet",
    (sheets) => sheets.filter((sheet) => sheet.getClientRects().length > 0).length,
  );
  return found;
}
