// The bench page in a real browser: whole jobs as a person does them, and every view by axe-core.
//
//     node run.mjs PROGRAM [FOLDER]
//
// FOLDER gets a picture of every view at three widths, light and dark.
import assert from "node:assert/strict";
import { execFile, spawn } from "node:child_process";
import { mkdir, mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { promisify } from "node:util";
import { chromium } from "playwright-core";

const program = resolve(process.argv[2]);
const pictures = process.argv[3] && resolve(process.argv[3]);
const temp = await mkdtemp(join(tmpdir(), "bench-page-"));
const axe = await readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const browser = await chromium.launch({
  executablePath: "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--disable-quic", "--disable-background-networking",
    "--disable-component-update", "--disable-sync"],
});
const served = [];

/** Runs the program in a folder; an exit code other than 0 throws. */
const run = (folder, ...args) => promisify(execFile)(program, args, { cwd: folder });

/** Serves the page of a folder with these files; returns the folder and the address. */
async function serve(name, files = {}) {
  const folder = join(temp, name);
  for (const [file, text] of Object.entries(files)) {
    await mkdir(join(folder, file, ".."), { recursive: true });
    await writeFile(join(folder, file), text);
  }
  await mkdir(folder, { recursive: true });
  const server = spawn(program, ["page", "--listen", "127.0.0.1:0"], {
    cwd: folder, env: { ...process.env, XDG_CONFIG_HOME: temp }, stdio: ["ignore", "inherit", "pipe"],
  });
  served.push(server);
  const at = await new Promise((found, failed) => {
    let said = "";
    server.stderr.on("data", (data) => {
      said += data;
      const address = said.match(/http:\/\/\S+/);
      if (address) found(address[0].replace(/\/$/, ""));
    });
    server.on("exit", () => failed(new Error(`the page ended: ${said}`)));
  });
  return { folder, at };
}

/** A page of a new window. A mistake of the browser, or a request to elsewhere, fails the journey. */
async function open(workshop, options) {
  const context = await browser.newContext({ baseURL: workshop.at, ...options });
  const page = await context.newPage();
  page.wrong = [];
  page.on("pageerror", (e) => page.wrong.push(`script: ${e.message}`));
  page.on("console", (m) => {
    if (m.type() === "error" && !/status of 4(04|22)/.test(m.text())) page.wrong.push(m.text());
  });
  page.on("request", (r) => {
    if (!r.url().startsWith(workshop.at)) page.wrong.push(`asks ${r.url()}`);
  });
  page.setDefaultTimeout(10_000);
  return page;
}

async function close(page) {
  assert.deepEqual(page.wrong, []);
  await page.context().close();
}

/** What a click downloads, as a file in the workshop's folder; its path from there. */
async function download(page, folder, click) {
  const [file] = await Promise.all([page.waitForEvent("download"), click()]);
  const name = join("saved", file.suggestedFilename());
  await file.saveAs(join(folder, name));
  return name;
}

/** Without a script, "Draw again" draws; with one it draws by itself. */
async function settled(page, key, part) {
  if (page.plain) await page.getByRole("button", { name: "Draw again" }).click();
  await page.waitForURL((url) => (url.searchParams.get(key) ?? "").includes(part));
}

/** From the shelf to a belt of 34 1/2 in with a buckle of 1 3/4 in. */
async function measureBelt(page) {
  await page.goto("/");
  await page.getByRole("link", { name: "Belt", exact: true }).click();
  await page.getByLabel(/^Waist/).fill("34 1/2 in");
  await settled(page, "measure.value", "34 1/2");
}

/** Two orders, of which the second is wider than its buckle. */
const orders = "order,template,wearer,measure.value,strap.width\n"
  + "Nine Lamps 1,belt,Ines Fairwater,34 in,38 mm\nNine Lamps 2,belt,Corin Ashdown,36 in,44 mm\n";

const journeys = {
  async "first belt, from the shelf to a PDF that reads back"(page, { folder }) {
    await measureBelt(page);
    await page.getByLabel(/^Buckle bar/).fill("5");
    await settled(page, "buckle.bar", "5");
    await page.getByText("= 5 mm, read as mm").waitFor();
    const here = page.url();
    await page.getByRole("link", { name: "To the print" }).click();
    const pdf = await download(page, folder, () => page.getByRole("link", { name: /PDF to print/ }).click());
    const job = await download(page, folder, () => page.getByRole("link", { name: /^Job file/ }).click());
    await run(folder, "verify", pdf, job);
    // Back and a bookmark bring the same strap.
    await page.goBack();
    assert.equal(page.url(), here);
    assert.equal(await page.getByLabel(/^Waist/).inputValue(), "34 1/2 in");
    await page.goto(here);
    assert.equal(await page.getByLabel(/^Buckle bar/).inputValue(), "5");
  },

  async "a finding, mended by its button"(page) {
    await measureBelt(page);
    await page.getByLabel(/^Strap width/).fill("44");
    await settled(page, "strap.width", "44");
    await page.getByRole("status").getByText("1 thing to mend").waitFor();
    const field = page.getByLabel(/^Strap width/);
    assert.equal(await field.getAttribute("aria-invalid"), "true");
    const about = await field.getAttribute("aria-describedby");
    assert.match(await page.locator(`[id="${about}"]`).innerText(), /wider than/);
    await page.getByRole("link", { name: /^Make it/ }).first().click();
    await page.getByText("Nothing to mend").waitFor();
    assert.equal(await page.evaluate(() => document.activeElement.id || location.hash.slice(1)), "f-strap.width");
  },

  async "a printer, calibrated and used"(page, { folder }) {
    await measureBelt(page);
    await page.getByRole("link", { name: "Check the print" }).click();
    const drawn = async (label) => {
      const how = await page.getByText(label).first().innerText();
      return Number(how.match(/([\d.]+) mm/)[1]);
    };
    for (const label of [/^Bar along the width/, /^Bar along the height/]) {
      await page.getByLabel(label).fill(((await drawn(label)) * 0.992).toFixed(1));
    }
    await page.getByRole("button", { name: "Judge the print" }).click();
    await page.getByRole("heading", { name: "A little off. Do not punch." }).waitFor();
    await page.getByLabel(/^Keep this printer/).fill("front desk");
    await page.getByRole("button", { name: "Keep this printer" }).click();
    await page.getByText("front desk is kept").waitFor();
    await page.getByRole("link", { name: "Back to the print" }).click();
    await page.getByLabel("Printer").selectOption("front desk");
    await page.getByRole("button", { name: "Show these sheets" }).click();
    const pdf = await download(page, folder, () => page.getByRole("link", { name: /PDF to print/ }).click());
    const job = await download(page, folder, () => page.getByRole("link", { name: /^Job file/ }).click());
    const { stdout } = await run(folder, "verify", pdf, job);
    assert.match(stdout, /front desk/);
  },

  async "a stock size after another"(page, { folder }) {
    await measureBelt(page);
    await page.getByRole("link", { name: "Other sizes" }).click();
    await page.getByLabel(/^Which sizes do you stock/).fill("28 to 46 in by 2 in");
    await page.getByRole("button", { name: "Show these sizes" }).click();
    await page.getByLabel("Which size is printed?").selectOption("34 in");
    await page.getByLabel(/^36 in/).check();
    await page.getByRole("button", { name: "Show this size" }).click();
    await page.getByText("36 in after 34 in: print 1 sheet, keep 1").waitFor();
    const pdf = await download(page, folder, () => page.getByRole("link", { name: /PDF of the new sheets/ }).click());
    assert.equal((await readFile(join(folder, pdf))).subarray(0, 5).toString(), "%PDF-");
  },

  async "orders, from a file to a ZIP"(page, { folder }) {
    await page.goto("/orders");
    await page.getByLabel(/^The table as a file/).setInputFiles({
      name: "orders.csv", mimeType: "text/csv", buffer: Buffer.from(orders),
    });
    await page.getByRole("button", { name: "Look at these orders" }).click();
    await page.getByText("1 is ready, 1 needs you").waitFor();
    await page.getByLabel("strap.width", { exact: true }).fill("38 mm");
    await page.getByRole("button", { name: "Read again" }).first().click();
    await page.getByText("2 are ready").waitFor();
    const zip = await download(page, folder, () => page.getByRole("button", { name: /^ZIP/ }).click());
    const bytes = await readFile(join(folder, zip));
    assert.equal(bytes.subarray(0, 2).toString(), "PK");
    for (const name of ["nine-lamps-1", "nine-lamps-2"]) assert.ok(bytes.includes(`${name}.pdf`), name);
  },

  async "hardware, kept by name and chosen"(page, { folder }) {
    await measureBelt(page);
    await page.getByLabel(/^Buckle bar/).fill("4.5");
    await settled(page, "buckle.bar", "4.5");
    await page.getByText("Hardware and leather by name").click();
    await page.getByLabel(/^Buckle: keep as/).fill("bosun 40");
    await page.locator("form:has(#thing-buckle) button").click();
    await page.waitForURL(/buckle.hardware=bosun/);
    assert.equal(await page.getByLabel(/^Buckle bar/).inputValue(), "4.5 mm");
    await page.goto("/strap/dog-collar");
    await page.getByRole("link", { name: /^Bosun 40/ }).click();
    await page.waitForURL(/buckle.hardware=bosun/);
    await run(folder, "profile");
  },

  async "another language, on the way"(page, { folder }) {
    await measureBelt(page);
    await page.getByRole("button", { name: "Deutsch" }).click();
    await page.getByRole("link", { name: "Drucken" }).click();
    const pdf = await download(page, folder, () => page.getByRole("link", { name: /^PDF/ }).first().click());
    await run(folder, "verify", pdf);
    await page.getByRole("button", { name: "English" }).click();
    await page.getByRole("link", { name: "Measure" }).click();
    assert.equal(await page.getByLabel(/^Waist/).inputValue(), "34 1/2 in");
  },

  async "a job, kept and opened again"(page, { folder }) {
    await measureBelt(page);
    await page.getByLabel(/^Keep this job as/).fill("two oars");
    await page.getByRole("button", { name: "Keep this job" }).click();
    await page.waitForURL(/\/job\//);
    await run(folder, "check", "two oars.toml");
    await page.getByRole("link", { name: "Drawer" }).click();
    await page.getByRole("link", { name: "two oars" }).click();
    assert.equal(await page.getByLabel(/^Waist/).inputValue(), "34 1/2 in");
  },
};

/** Presses Tab until the element with this role and name has the focus. */
async function tabTo(page, wanted) {
  const handle = await wanted.elementHandle();
  for (let n = 0; n < 120; n += 1) {
    await page.keyboard.press("Tab");
    if (await handle.evaluate((e) => e === document.activeElement)) {
      const is = await handle.evaluate((e) => {
        const { outlineStyle, outlineWidth } = getComputedStyle(e);
        const box = e.getBoundingClientRect();
        return { outline: `${outlineWidth} ${outlineStyle}`, seen: box.bottom > 0 && box.top < innerHeight };
      });
      assert.deepEqual(is, { outline: "3px solid", seen: true });
      return;
    }
  }
  assert.fail(`no way by Tab to ${wanted}`);
}

async function byKeyboard(page, { folder }) {
  await page.goto("/");
  await page.keyboard.press("Tab");
  assert.equal(await page.evaluate(() => document.activeElement.textContent), "Skip to the page");
  await page.keyboard.press("Enter");
  await tabTo(page, page.getByRole("link", { name: "Belt", exact: true }));
  await page.keyboard.press("Enter");
  await page.waitForURL(/\/strap\/belt/);
  await tabTo(page, page.getByLabel(/^Waist/));
  await page.keyboard.press("Control+A");
  await page.keyboard.type("34 1/2 in");
  await page.keyboard.press("Enter");
  await page.waitForURL(/measure.value=34/);
  await tabTo(page, page.getByRole("link", { name: "To the print" }));
  await page.keyboard.press("Enter");
  const link = page.getByRole("link", { name: /PDF to print/ });
  await link.waitFor();
  await tabTo(page, link);
  const pdf = await download(page, folder, () => page.keyboard.press("Enter"));
  await run(folder, "verify", pdf);
}

/** The workshop of the views below. */
const files = {
  "strapwright.toml": 'paper = "a4"\n\n[hardware.bosun-buckle]\nhardware = "buckle"\nbar = "4.5 mm"\n'
    + 'reach = "31 mm"\ninside = "40 mm"\nnote = "blue tin"\n\n[leather.shoulder]\nthickness = "3.5 mm"\n\n'
    + "[leather.bridle-butt]\nthickness = \"4 mm\"\n",
  "ferry.toml": 'template = "belt"\ntitle = "Ferryman\'s belt"\nwearer = "Tobias Wren"\n\n[measure]\n'
    + 'value = "34 1/2 in"\n\n[strap]\nleather = "shoulder"\n\n[buckle]\nhardware = "bosun-buckle"\n',
};
const belt = "/strap/belt";
const measured = "measure.value=34+1%2F2+in&buckle.bar=4+mm&buckle.reach=30+mm";
const views = {
  shelf: "/",
  belt: `${belt}?${measured}`,
  "belt-new": belt,
  "belt-wrong": `${belt}?${measured}&strap.width=44&size-holes.apart=8+mm`,
  "belt-unread": `${belt}?measure.value=wide`,
  "belt-mark": `${belt}?${measured}&mark=size-holes-2&zoom=2`,
  job: "/job/ferry",
  collar: "/strap/dog-collar?measure.value=42+cm",
  watch: "/strap/watch-strap",
  guitar: "/strap/guitar-strap",
  print: `${belt}/print?${measured}`,
  "print-wrong": `${belt}/print?${measured}&strap.width=44`,
  check: `${belt}/check?${measured}`,
  "check-true": `${belt}/check?${measured}&wide=260&tall=160&strip=1060`,
  "check-fitted": `${belt}/check?${measured}&wide=252.2&tall=155.2`,
  "check-off": `${belt}/check?${measured}&wide=257.9&tall=158.7`,
  "sizes-none": `${belt}/sizes?${measured}`,
  sizes: `${belt}/sizes?${measured}&stock.sizes=28+to+46+in+by+2+in&after=34+in&size=36+in`,
  orders: "/orders",
  "orders-wrong": "/orders",
  drawer: "/drawer",
  help: "/help",
  missing: "/nothing",
  refused: `${belt}?${"a.b=1&".repeat(300)}`,
};

const languages = ["en", "de", "fr", "es", "it", "pl"];

/** What axe finds wrong, and whether the view is wider than the window. */
async function look(page, name, width) {
  // At its full height: the bar at the lower edge, which a person scrolls away from, hides nothing.
  const height = await page.evaluate(() => document.documentElement.scrollHeight);
  await page.setViewportSize({ width, height });
  await page.evaluate(axe);
  const found = await page.evaluate(async () => {
    const { violations } = await window.axe.run(document, {
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    });
    const wide = document.documentElement.scrollWidth - window.innerWidth;
    const all = violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html.slice(0, 120)).join(" | ")}`);
    return wide > 0 ? [...all, `${wide} px wider than the window`] : all;
  });
  return found.map((what) => `${name}: ${what}`);
}

/** English light and dark, narrow and wide; the other languages where they have least room. */
const windows = [
  ...[360, 768, 1600].flatMap((width) => ["light", "dark"].map((colorScheme) => ({ width, colorScheme, locale: "en" }))),
  ...languages.slice(1).map((locale) => ({ width: 360, colorScheme: "light", locale })),
];

async function lookAtAll(workshop) {
  const wrong = [];
  for (const { width, colorScheme, locale } of windows) {
    if (width === 768 && !pictures) continue;
    const page = await open(workshop, { viewport: { width, height: 900 }, colorScheme, locale });
    for (const [name, address] of Object.entries(views)) {
      await page.setViewportSize({ width, height: 900 });
      await page.goto(address);
      assert.equal(await page.locator("html").getAttribute("lang"), locale);
      if (name === "orders-wrong") {
        await page.locator("#table").fill(orders);
        await page.locator("button.black").click();
        await page.locator("[id^=cell-]").first().waitFor();
      }
      const title = `${name}-${width}-${colorScheme}-${locale}`;
      if (width !== 768) wrong.push(...await look(page, title, width));
      if (pictures) {
        await page.evaluate(() => { for (const i of document.images) i.loading = "eager"; });
        await page.waitForLoadState("networkidle");
        await page.screenshot({ path: join(pictures, `${title}.png`), fullPage: true });
      }
    }
    await close(page);
  }
  assert.deepEqual(wrong, []);
}

let failures = 0;
async function step(name, deed) {
  const start = Date.now();
  try {
    await deed();
    console.log(`${name}: ${Date.now() - start} ms`);
  } catch (e) {
    failures += 1;
    console.log(`FAILED ${name}: ${e.stack.slice(0, 900)}`);
  }
}

/** A journey in a workshop of its own, whose folder is empty. */
async function travel(name, width, plain, journey) {
  const title = `${name}, ${width} px${plain ? ", no script" : ""}`;
  await step(title, async () => {
    const workshop = await serve(title.replaceAll(/\W/g, "-"));
    const page = await open(workshop, { viewport: { width, height: 900 }, javaScriptEnabled: !plain });
    page.plain = plain;
    await journey(page, workshop);
    await close(page);
  });
}

try {
  await Promise.all([360, 1600].map(async (width) => {
    for (const [name, journey] of Object.entries(journeys)) {
      for (const plain of [false, true]) await travel(name, width, plain, journey);
    }
    await travel("by keyboard alone", width, false, byKeyboard);
  }));
  if (pictures) await mkdir(pictures, { recursive: true });
  await step("every view by axe-core", async () => lookAtAll(await serve("filled", files)));
} finally {
  for (const server of served) server.kill("SIGINT");
  await browser.close();
  await rm(temp, { recursive: true, force: true });
}
process.exit(failures ? 1 : 0);
