// What a reader does on a page that answers.

/** Opens the control of an input, writes in its box, and closes it; what the control refuses. */
export async function move(page, set, text) {
  const button = page.locator(`[data-set=${JSON.stringify(set)}]`).first();
  await button.click();
  const box = page.locator(".edit input[type=text]");
  await box.fill(text);
  await box.press("Enter");
  await box.dispatchEvent("change");
  const refusal = await page.locator(".edit .wrong").textContent();
  await box.press("Escape");
  return refusal;
}

/** Waits until everything on the page has followed. */
export async function settle(page) {
  await page.waitForTimeout(50);
  await page.waitForFunction(() => !document.body.classList.contains("sampling"), undefined, { timeout: 60_000 });
}
