// The page on paper: what is on every sheet, and how many there are.

export async function scenario({ open, given }) {
  const page = await open(given.page, { hash: given.hash ?? "" });
  await page.emulateMedia({ media: "print" });
  const running = await page.locator(".running").innerText();
  const bar = await page.locator(".bar").isVisible();
  const repeated = await page.locator("thead").evaluate((node) => getComputedStyle(node).display);
  const sizes = {};
  for (const format of ["A4", "Letter"]) {
    const pdf = await page.pdf({ format, preferCSSPageSize: false });
    sizes[format] = (pdf.toString("latin1").match(/\/Type\s*\/Page\b/gu) ?? []).length;
  }
  return { running, bar, repeated, sizes };
}
