// Whoever has no mouse: the first reading is reached, opened, moved and closed by keys alone.

export async function scenario({ open, given }) {
  const page = await open(given.page);
  const first = page.locator("[data-i]").first();
  await first.focus();
  const ring = await first.evaluate((node) => getComputedStyle(node).outlineStyle);
  await page.keyboard.press("Enter");
  const opened = await first.getAttribute("aria-expanded");
  const inBox = await page.evaluate(() => document.activeElement.type);
  await page.keyboard.press("Tab");
  const inSlider = await page.evaluate(() => document.activeElement.type);
  await page.keyboard.press("ArrowRight");
  await page.waitForFunction(() => document.body.classList.contains("trying"));
  const value = await page.locator(".edit input[type=text]").inputValue();
  await page.keyboard.press("Escape");
  const back = await page.evaluate(() => document.activeElement.hasAttribute("data-i"));
  return { ring, opened, inBox, inSlider, value, back, controls: await page.locator(".edit").count() };
}
