// The page around the screens: tabs, answers, and what is open. On a phone one of them, on a wide page both.
import { html, nothing } from "lit";
import { aeroplaneScreen } from "./aeroplane.js";
import { airScreen } from "./air.js";
import { answerScreen } from "./answer.js";
import { answersScreen } from "./answers.js";
import { bringScreen } from "./bring.js";
import { deviceScreen } from "./device.js";
import { editScreen } from "./edit.js";
import { gotScreen } from "./got.js";
import { handScreen } from "./hand.js";
import { historyScreen } from "./history.js";
import { loadScreen } from "./load.js";
import { printScreen } from "./print.js";
import { settingsScreen } from "./settings.js";
import { sumsScreen } from "./sums.js";
import { tripScreen } from "./trip.js";

/** @typedef {import("./context.js").Context} Context */

const TABS = ["answers", "load", "trip", "aeroplane", "settings"];

/** @type {Record<string, (context: Context) => unknown>} */
const SCREENS = {
  answer: answerScreen,
  air: airScreen,
  load: loadScreen,
  trip: tripScreen,
  aeroplane: aeroplaneScreen,
  settings: settingsScreen,
  edit: editScreen,
  print: printScreen,
  sums: sumsScreen,
  history: historyScreen,
  device: deviceScreen,
  hand: handScreen,
  bring: bringScreen,
  got: gotScreen,
};

/** Screens that need no trip. */
const FREE = ["trip", "settings", "edit", "sums", "history", "device", "bring", "got"];

/** What a passenger sees: that alone, without the pilot's answers and tabs. */
const ALONE = ["bring", "got"];

/** The tab under which a screen lies that has none of its own. @type {Record<string, string>} */
const UNDER = { answer: "answers", air: "answers", print: "trip", edit: "aeroplane", sums: "settings", history: "settings", device: "settings", hand: "load", bring: "load", got: "load" };

/** @param {Context} context */
export function frame(context) {
  const { place, t, plan } = context;
  const atAnswers = !(place.screen in SCREENS);
  const tab = atAnswers ? "answers" : (UNDER[place.screen] ?? place.screen);
  const open = SCREENS[atAnswers ? "answer" : place.screen];
  document.title = `${t(`shell.tab.${atAnswers ? "answers" : place.screen}`)} · Tussock`;
  return html`
    <main class="panes ${ALONE.includes(place.screen) ? "alone" : ""}">
      <section class="pane pane-answers ${atAnswers ? "" : "away"}" tabindex="-1" aria-label=${t("shell.tab.answers")}>
        ${answersScreen(context)}
      </section>
      <section class="pane pane-open ${atAnswers ? "away" : ""}" data-place="${place.screen}/${place.part}" tabindex="-1" aria-label=${t("shell.opened")}>
        ${plan || FREE.includes(place.screen) ? open(context) : nothing}
      </section>
    </main>
    <nav class="tabs" ?hidden=${ALONE.includes(place.screen)} aria-label=${t("shell.tabs")}>
      ${TABS.map(
        (name) =>
          html`<a href="#/${name === "answers" ? "" : name}" aria-current=${name === tab ? "page" : nothing}>${t(`shell.tab.${name}`)}</a>`,
      )}
    </nav>
  `;
}
