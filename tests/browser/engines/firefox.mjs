// Firefox at the end of a pipe: one JSON command a line in, one JSON answer a line out. WebDriver BiDi is spoken for
// us by puppeteer-core, which lives among the shell's packages.
import { createRequire } from "node:module";
import { createInterface } from "node:readline";

const [parts, executablePath, userDataDir, width, height, patience] = process.argv.slice(2);
const puppeteer = createRequire(parts)("puppeteer-core");

const browser = await puppeteer.launch({
  browser: "firefox",
  executablePath,
  userDataDir,
  headless: true,
  defaultViewport: { width: Number(width), height: Number(height) },
  protocolTimeout: Number(patience),
  timeout: Number(patience),
  // Nothing of its own business on the line, and nothing that changes between two starts.
  extraPrefsFirefox: {
    "app.update.auto": false,
    "browser.shell.checkDefaultBrowser": false,
    "extensions.update.enabled": false,
    "network.captive-portal-service.enabled": false,
    "network.connectivity-service.enabled": false,
  },
});
// The page it begins with has not the size asked for.
const page = await browser.newPage();
const asked = [];
const complaints = [];
page.on("request", (request) => asked.push(request.url()));
page.on("pageerror", (problem) => complaints.push(`error: ${problem}`));
page.on("console", (said) => said.type() === "error" && complaints.push(`console: ${said.text()}`));

const commands = {
  open: (address) => page.goto(address, { timeout: Number(patience) }).then(() => null),
  evaluate: (source, argument) => page.evaluate(`(${source})(${JSON.stringify(argument ?? null)})`),
  asked: () => asked,
  complaints: () => complaints,
  click: (x, y) => page.mouse.click(x, y),
  type: (text) => page.keyboard.type(text),
  press: (key) => page.keyboard.press(key),
  screenshot: (path) => page.screenshot({ path }).then(() => null),
  close: () => browser.close(),
};

for await (const line of createInterface({ input: process.stdin })) {
  const { command, with: given } = JSON.parse(line);
  let answer;
  try {
    answer = { result: (await commands[command](...given)) ?? null };
  } catch (problem) {
    answer = { problem: String(problem?.stack ?? problem) };
  }
  process.stdout.write(`${JSON.stringify(answer)}\n`);
  if (command === "close") process.exit(0);
}
// Whoever started us is gone: leave no browser behind.
await browser.close();
