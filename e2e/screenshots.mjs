// Pictures of the plan page in both widths and both colour schemes, into the folder named.
import { join } from "node:path";
import { LOOKS, openPage, startBrowser, startProgram } from "./program.mjs";

const folder = process.argv[2];
if (!folder) throw new Error("usage: node screenshots.mjs FOLDER");
const pages = { plan: "/", brewhouse: "/brewhouse", brew: "/brew", ledger: "/ledger", sheet: "/sheet" };

const program = await startProgram();
const browser = await startBrowser();
try {
  for (const { file, options } of LOOKS) {
    const { page, close } = await openPage(browser, options);
    for (const [name, path] of Object.entries(pages)) {
      await page.goto(program.address + path, { waitUntil: "load" });
      const to = join(folder, `${name}-${file}.png`);
      await page.screenshot({ path: to, fullPage: true });
      console.log(to);
    }
    await close();
  }
} finally {
  await browser.close();
  await program.stop();
}
