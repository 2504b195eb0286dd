// What arose with the line that was kept: said once, by word, and aloud where that was asked for. Danger interrupts.
import { all, found } from "./found";
import { alarm, say } from "./voice";

const FOUND = ".fin:has(.k.stop,.k.act,.k.advise) h3";
let stops = new Set<string>();
let findings = new Set<string>();

function words(selector: string): Set<string> {
  return new Set(all(selector).map((each) => each.textContent?.trim() ?? ""));
}

export function remember(): void {
  stops = words(".halt[role=alert] h2");
  findings = words(FOUND);
}

/** Whether a danger arose, which then has the screen to itself. */
export function announce(): boolean {
  const danger = [...words(".halt[role=alert] h2")].filter((each) => !stops.has(each));
  const arose = [...words(FOUND)].filter((each) => !findings.has(each));
  const kept = found("#said p")?.textContent?.trim() ?? "";
  if (danger.length > 0) {
    const first = found(".halt[role=alert] h2");
    first?.setAttribute("tabindex", "-1");
    window.scrollTo({ top: 0, behavior: "instant" });
    first?.focus({ preventScroll: true });
    alarm(danger.join(" "));
    return true;
  }
  const told = [kept, ...arose.slice(0, 2).map((each) => `New: ${each}`)].filter(Boolean).join(". ");
  const events = found("#events");
  if (events) events.textContent = told;
  if (arose.length > 0) beside(arose);
  say(told);
  return false;
}

/** What arose, under the words that were kept, leading to where it stands. */
function beside(arose: string[]): void {
  const said = found("#said p");
  if (!said) return;
  const link = document.createElement("a");
  link.className = "arose";
  link.href = "#findings";
  link.textContent = arose.length > 1 ? `${arose[0]} And ${arose.length - 1} more.` : (arose[0] ?? "");
  link.addEventListener("click", (event) => {
    event.preventDefault();
    found(FOUND)?.scrollIntoView({ block: "start", behavior: "instant" });
  });
  said.append(" ", link);
}
