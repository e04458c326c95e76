// What a page is like to read: barriers, and whether it goes beyond the screen, at the widths given, light and dark.

export async function scenario({ open, barriers, given }) {
  const found = [];
  for (const width of given.widths) {
    for (const colorScheme of ["light", "dark"]) {
      const page = await open(given.page, { width, colorScheme });
      await page.evaluate(() => document.querySelectorAll("details").forEach((details) => (details.open = true)));
      const overflow = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
      found.push({ width, colorScheme, overflow, barriers: await barriers(page) });
      await page.context().close();
    }
  }
  return found;
}
