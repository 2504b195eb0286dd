// The one script of the pages. Everything works without it; with it nothing typed is lost and less is tapped.
import htmx from "htmx.org";
import { announce, remember } from "./arise";
import { found } from "./found";
import { keypad } from "./keypad";
import { openLines } from "./lines";
import { photographs } from "./photo";
import { place } from "./place";
import { guardPlainForms, keepTyped, steady } from "./steady";
import { tone } from "./tone";
import { voice } from "./voice";
import { watch } from "./watch";

let stays = false;

function settled(): void {
  keypad();
  openLines();
  photographs();
  voice();
  tone();
  keepTyped();
}

document.addEventListener("DOMContentLoaded", () => {
  settled();
  place();
  watch();
});
document.addEventListener("htmx:before:swap", (event) => {
  if (isWhole(event)) remember();
  else stays = found("details[data-stays][open]") !== null;
});
document.addEventListener("htmx:after:swap", (event) => {
  if (!isWhole(event)) {
    tone();
    voice();
    if (stays) found("details[data-stays]")?.setAttribute("open", "");
    return;
  }
  settled();
  if (!announce()) place();
});
steady(htmx);
guardPlainForms();

/** Whether the sheet itself is exchanged, and not only a word beside the open line. */
function isWhole(event: Event): boolean {
  const told = (event as CustomEvent<{ ctx?: { select?: string } }>).detail;
  return told?.ctx?.select === "#work";
}
