// What must stand on the plan page, told by meaning: roles, names, text.
// Says nothing about classes, colours or places.
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { LOOKS, openPage, startBrowser, startProgram } from "./program.mjs";
import "./sheet.test.mjs"; // the printed sheet, keys and contrast: one run for both

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

/** Opens the plan page and leaves it well. */
async function onThePlan(options, look) {
  const opened = await openPage(browser, options);
  try {
    const answer = await opened.page.goto(program.address, { waitUntil: "load" });
    assert.equal(answer.status(), 200);
    await look(opened);
  } finally {
    await opened.close();
  }
}

test("the demo is planned: brew, brewhouse, section with its vessels", () =>
  onThePlan({}, async ({ page }) => {
    await page.getByRole("heading", { level: 1, name: "Windfall Amber" }).waitFor();
    assert.equal(await page.getByRole("heading", { level: 1 }).count(), 1);
    await page.getByRole("heading", { name: /Orchard Shed/ }).waitFor();
    const section = page.locator("#section").getByRole("img").first();
    const told = ((await section.getAttribute("aria-label")) ?? "").toLowerCase();
    const drawn = ((await section.textContent()) ?? "").toLowerCase();
    for (const vessel of ["tank", "tun", "kettle"]) {
      assert.ok(`${told} ${drawn}`.includes(vessel), `the section does not name the ${vessel}`);
    }
  }));

test("the targets stand there with what is wanted and what is expected", () =>
  onThePlan({}, async ({ page }) => {
    const main = ((await page.getByRole("main").innerText()) ?? "").toLowerCase();
    for (const target of ["volume", "gravity", "bitterness", "colour", "fermentability"]) {
      assert.ok(main.includes(target), `no ${target} on the page`);
    }
    assert.ok((await page.getByRole("heading", { name: "What it will be" }).count()) >= 1);
  }));

/** The steps as the page tells them: a row each, with its time first. */
async function stepTimes(page) {
  const rows = page.locator("#steps").getByRole("row");
  const texts = await rows.allInnerTexts();
  const times = texts.map((text) => text.match(/^\s*(\d{1,2}):(\d{2})/));
  return times.filter(Boolean).map(([, hour, minute]) => 60 * Number(hour) + Number(minute));
}

test("the steps of the day stand in the order of their clock", () =>
  onThePlan({}, async ({ page }) => {
    const steps = page.locator("#steps");
    await steps.getByRole("heading", { name: "Steps", exact: true }).waitFor();
    const times = await stepTimes(page);
    assert.ok(times.length >= 8, `only ${times.length} steps have a time`);
    assert.deepEqual(times, [...times].sort((one, other) => one - other));
    const text = (await steps.innerText()).toLowerCase();
    for (const words of [/malt|grist|dough/, /run off|runnings|sparge/, /boil/, /chill|cool/]) {
      assert.match(text, words);
    }
  }));

test("the lanes of the day are drawn and have a twin in words", () =>
  onThePlan({}, async ({ page }) => {
    const lanes = page.getByRole("group", { name: "Lanes of the day" }).getByRole("img");
    assert.equal(await lanes.count(), 1);
    assert.ok(((await lanes.getAttribute("aria-label")) ?? "").length > 20);
    assert.ok((await page.getByRole("table").count()) >= 1, "no table stands beside the drawings");
  }));

for (const { name, options } of LOOKS) {
  test(`nothing runs over the edge of the page at ${name}`, () =>
    onThePlan(options, async ({ page }) => {
      for (const path of ["/", "/brewhouse", "/brew", "/brews", "/ledger", "/cellar", "/sheet"]) {
        const answer = await page.goto(program.address + path);
        assert.equal(answer.status(), 200, path);
        const [needed, given] = await page.evaluate(() => [
          document.documentElement.scrollWidth,
          document.documentElement.clientWidth,
        ]);
        assert.ok(needed <= given, `${path} is ${needed} px wide on ${given} px`);
      }
    }));
}

test("paper and slate are two grounds", async () => {
  const grounds = [];
  for (const colorScheme of ["light", "dark"]) {
    await onThePlan({ colorScheme }, async ({ page }) => {
      grounds.push(await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor));
    });
  }
  assert.notEqual(grounds[0], grounds[1]);
});

test("the plan is read without script", () =>
  onThePlan({ javaScriptEnabled: false }, async ({ page }) => {
    await page.getByRole("heading", { level: 1, name: "Windfall Amber" }).waitFor();
    assert.ok((await stepTimes(page)).length >= 8);
    assert.ok((await page.getByRole("img").count()) >= 2);
  }));

test("another pair of units is one press away, with and without script", async () => {
  for (const javaScriptEnabled of [true, false]) {
    await onThePlan({ javaScriptEnabled }, async ({ page }) => {
      await page.getByRole("button", { name: "gal, °F, lb" }).click();
      await page.waitForLoadState("load");
      assert.match(await page.getByRole("main").innerText(), /\d °F/);
      await page.getByRole("button", { name: "L, °C, kg" }).click();
      await page.waitForLoadState("load");
      assert.match(await page.getByRole("main").innerText(), /\d °C/);
    });
  }
});

test("no request leaves this machine, and nothing goes wrong on any page", () =>
  onThePlan({}, async ({ page, asked, errors }) => {
    const links = await page
      .getByRole("link")
      .evaluateAll((all) => all.map((link) => link.getAttribute("href")));
    const places = new Set(links.filter((to) => to?.startsWith("/")).map((to) => to.split("#")[0]));
    assert.ok(places.size >= 5, `only ${places.size} places are linked`);
    for (const place of places) {
      const answer = await page.goto(program.address + place);
      assert.ok(answer.status() < 400, `${place} answers ${answer.status()}`);
    }
    const outside = asked.filter((url) => !url.startsWith(program.address) && !/^(data|blob):/.test(url));
    assert.deepEqual(outside, []);
    assert.deepEqual(errors, []);
  }));

test("a page that is not there says so and leads back", async () => {
  const { page, close } = await openPage(browser);
  try {
    const answer = await page.goto(`${program.address}/nowhere`);
    assert.equal(answer.status(), 404);
    assert.ok((await page.getByRole("link").count()) >= 1);
  } finally {
    await close();
  }
});
