// What must hold for the printed sheet of every demo brew on every demo brewhouse, and for a
// reader with keys only or without script. Says nothing about classes, colours or places.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { openPage, startBrowser, startProgram } from "./program.mjs";

let program;
let browser;

before(async () => {
  program = await startProgram();
  browser = await startBrowser();
});

after(async () => {
  await browser?.close();
  await program?.stop();
});

const PAGES = ["/day", "/brew", "/brews", "/brewhouse", "/ledger", "/cellar"];

/** Opens a page of its own, in the units named, and leaves it well. */
async function looking(units, options, look) {
  const opened = await openPage(browser, options);
  try {
    const cookie = { name: "units", value: units, url: program.address };
    await opened.page.context().addCookies([cookie]);
    await look(opened);
  } finally {
    await opened.close();
  }
}

/** The values of the hidden fields that choose something: all brews, all brewhouses. */
async function choices(page) {
  await page.goto(`${program.address}/brews`);
  const fields = await page.locator('input[type="hidden"]').evaluateAll((all) =>
    all.map((field) => [field.name, field.value]),
  );
  const named = (name, first) => [
    first,
    ...fields.filter(([field]) => field === name).map(([, value]) => value),
  ];
  return { brews: named("brew", "windfall-amber"), brewhouses: named("brewhouse", "orchard-shed") };
}

/** How many pages a PDF has: its page objects. */
function pagesOf(pdf) {
  return (pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g) ?? []).length;
}

test("the pages of a print are counted", async () => {
  const { page, close } = await openPage(browser);
  try {
    const three = [1, 2, 3].map((n) => `<p style="break-after:page">${n}</p>`).join("") + "<p>4</p>";
    await page.setContent(three);
    assert.equal(pagesOf(await page.pdf({ format: "A4" })), 4);
  } finally {
    await close();
  }
});

for (const units of ["metric", "us"]) {
  test(`every sheet fits two pages of A4 and of US Letter, ${units}`, () =>
    looking(units, {}, async ({ page }) => {
      const { brews, brewhouses } = await choices(page);
      let printed = 0;
      const over = [];
      for (const brewhouse of brewhouses) {
        for (const brew of brews) {
          const form = { brewhouse, brew };
          const answer = await page.context().request.post(`${program.address}/choose`, { form });
          assert.ok(answer.ok(), `${brew} on ${brewhouse} answers ${answer.status()}`);
          await page.goto(`${program.address}/sheet`, { waitUntil: "load" });
          for (const format of ["A4", "Letter"]) {
            const count = pagesOf(await page.pdf({ format }));
            assert.ok(count >= 1);
            if (count > 2) over.push(`${brew} on ${brewhouse}, ${format}: ${count}`);
            printed += 1;
          }
        }
      }
      const form = { brewhouse: "orchard-shed", brew: "windfall-amber" };
      await page.context().request.post(`${program.address}/choose`, { form });
      assert.deepEqual(over, []);
      assert.equal(printed, 50);
    }));
}

test("without script every page says what it has to say and can be left", () =>
  looking("metric", { javaScriptEnabled: false }, async ({ page }) => {
    for (const path of [...PAGES, "/sheet", "/dipstick/kettle"]) {
      const answer = await page.goto(program.address + path);
      assert.equal(answer.status(), 200, path);
      assert.equal(await page.getByRole("heading", { level: 1 }).count(), 1, path);
      assert.ok((await page.getByRole("link").count()) >= 1, `${path} leads nowhere`);
    }
    await page.goto(`${program.address}/brews`);
    const choose = page.getByRole("button", { name: /^Choose / });
    const name = ((await choose.first().getAttribute("aria-label")) ?? "").replace("Choose ", "");
    await choose.first().click();
    await page.waitForLoadState("load");
    await page.getByRole("heading", { level: 1, name }).waitFor();
    const form = { brewhouse: "orchard-shed", brew: "windfall-amber" };
    await page.context().request.post(`${program.address}/choose`, { form });
  }));

test("the first key leads to the sheet, and all that can be pressed has a name and a size", () =>
  looking("metric", { viewport: { width: 390, height: 844 } }, async ({ page }) => {
    for (const path of PAGES) {
      await page.goto(program.address + path);
      await page.keyboard.press("Tab");
      const first = await page.evaluate(() => document.activeElement?.getAttribute("href") ?? "");
      assert.match(first, /^#/, `${path}: the first key does not lead to the sheet`);
      const poor = await page.evaluate(() => {
        const shown = (element) => element.checkVisibility() && element.getClientRects().length > 0;
        const named = (element) =>
          (element.getAttribute("aria-label") ?? element.textContent ?? "").trim() !== "";
        const all = [...document.querySelectorAll("a[href], button, summary, input:not([type=hidden])")];
        return all
          .filter(shown)
          .filter((element) => {
            const { width, height } = element.getBoundingClientRect();
            const inText = getComputedStyle(element).display === "inline";
            return !named(element) || (!inText && (width < 24 || height < 24) && height > 1);
          })
          .map((element) => element.outerHTML.slice(0, 120));
      });
      assert.deepEqual(poor, [], path);
    }
  }));

test("what scrolls sideways can be reached with the keys and has a name", () =>
  looking("metric", { viewport: { width: 390, height: 844 } }, async ({ page }) => {
    for (const path of PAGES) {
      await page.goto(program.address + path);
      const poor = await page.evaluate(() =>
        [...document.querySelectorAll("main *")]
          .filter((element) => element.scrollWidth > element.clientWidth + 1)
          .filter((element) => ["auto", "scroll"].includes(getComputedStyle(element).overflowX))
          .filter((element) => element.tabIndex < 0 || !element.getAttribute("aria-label"))
          .map((element) => element.outerHTML.slice(0, 120)),
      );
      assert.deepEqual(poor, [], path);
    }
  }));

for (const colorScheme of ["light", "dark"]) {
  test(`all words stand out from their ground at least 4.5 to 1, ${colorScheme}`, () =>
    looking("metric", { colorScheme }, async ({ page }) => {
      for (const path of PAGES) {
        await page.goto(program.address + path);
        const poor = await page.evaluate(() => {
          const canvas = new OffscreenCanvas(1, 1).getContext("2d", { willReadFrequently: true });
          const read = (colour) => {
            canvas.clearRect(0, 0, 1, 1);
            canvas.fillStyle = colour;
            canvas.fillRect(0, 0, 1, 1);
            return [...canvas.getImageData(0, 0, 1, 1).data];
          };
          const light = ([r, g, b]) => {
            const line = (v) => (v / 255 <= 0.04045 ? v / 3294.6 : ((v / 255 + 0.055) / 1.055) ** 2.4);
            return 0.2126 * line(r) + 0.7152 * line(g) + 0.0722 * line(b);
          };
          const ground = (element) => {
            for (let at = element; at; at = at.parentElement) {
              const colour = read(getComputedStyle(at).backgroundColor);
              if (colour[3] === 255) return colour;
            }
            return read("white");
          };
          const found = new Set();
          const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
          for (let node = walk.nextNode(); node; node = walk.nextNode()) {
            const element = node.parentElement;
            if (!node.textContent.trim() || !element.checkVisibility() || element.closest("svg")) continue;
            if (["SCRIPT", "STYLE"].includes(element.tagName)) continue;
            const [one, two] = [light(read(getComputedStyle(element).color)), light(ground(element))];
            const ratio = (Math.max(one, two) + 0.05) / (Math.min(one, two) + 0.05);
            if (ratio < 4.5) found.add(`${ratio.toFixed(2)}: ${node.textContent.trim().slice(0, 40)}`);
          }
          return [...found];
        });
        assert.deepEqual(poor, [], path);
      }
    }));
}
