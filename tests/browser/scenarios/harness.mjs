// The harness itself: a page opens, its script runs, what is wrong with it is found.

export async function scenario({ open, barriers, given }) {
  const page = await open(given.page);
  return { title: await page.title(), barriers: await barriers(page) };
}
