// Starts the program on a free port with a store of its own, and the browser that looks at it.
// Knows no page. `UNDERBACK` and `CHROMIUM` say where both lie.
import { spawn } from "node:child_process";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";

const PROGRAM = process.env.UNDERBACK ?? "../target/debug/underback";
const BROWSER = process.env.CHROMIUM ?? "/usr/bin/chromium";
const QUIET = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/** The program, serving: its address and how to end it. */
export async function startProgram() {
  const data = await mkdtemp(join(tmpdir(), "underback-e2e-"));
  const child = spawn(PROGRAM, ["serve", "--port", "0", "--data", data], {
    stdio: ["ignore", "pipe", "pipe"],
  });
  let said = "";
  const address = await new Promise((resolve, reject) => {
    const late = setTimeout(() => reject(new Error(`no address within 60 s: ${said}`)), 60_000);
    const look = (chunk) => {
      said += chunk;
      const found = said.match(/http:\/\/127\.0\.0\.1:\d+/);
      if (found) {
        clearTimeout(late);
        resolve(found[0]);
      }
    };
    child.stdout.on("data", look);
    child.stderr.on("data", (chunk) => (said += chunk));
    child.on("error", reject);
    child.on("exit", (code) => reject(new Error(`the program ended with ${code}: ${said}`)));
  });
  const stop = async () => {
    child.removeAllListeners("exit");
    const ended = new Promise((resolve) => child.on("exit", resolve));
    child.kill("SIGTERM");
    await ended;
    await rm(data, { recursive: true, force: true });
  };
  return { address, stop };
}

/** A headless browser. */
export function startBrowser() {
  return chromium.launch({ executablePath: BROWSER, headless: true, args: QUIET });
}

/** A page that writes down what it asks for and what goes wrong on it. */
export async function openPage(browser, options = {}) {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  const asked = [];
  const errors = [];
  page.on("request", (request) => asked.push(request.url()));
  page.on("console", (message) => {
    if (message.type() === "error") errors.push(message.text());
  });
  page.on("pageerror", (error) => errors.push(String(error)));
  return { page, asked, errors, close: () => context.close() };
}

/** The two widths and the two colour schemes that every page is looked at in. */
export const LOOKS = [390, 1440].flatMap((width) =>
  ["light", "dark"].map((colorScheme) => ({
    name: `${width} px, ${colorScheme}`,
    file: `${width}-${colorScheme}`,
    options: { viewport: { width, height: width === 390 ? 844 : 900 }, colorScheme },
  })),
);
