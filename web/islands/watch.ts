// The page that is watched: parts drawn anew from the frames of its stream, a stop before everything else, and since when
// nothing came. The browser comes back by itself with the id of its last frame; nothing is asked for twice.
import { all, found } from "./found";
import { alarm, say } from "./voice";
import { heard } from "./tone";

interface Frame {
  after: number;
  upto: number;
  parts: Record<string, string>;
  edge: number | null;
  say: string;
  steady: boolean;
  silent: boolean;
}

const AGAIN = 2000;
const SILENT = 5000;
let source: EventSource | null = null;
let last = "";
let came = 0;
let steady = false;
let told = new Set<string>();

export function watch(): void {
  const page = found("#watching");
  if (!page || source || !("EventSource" in window)) return;
  told = stops();
  if (told.size > 0) alarm([...told].join(" "));
  open(page);
  setInterval(look, 1000);
}

/** Room of plane, strip and flue in px, so that each is drawn for its place and never scaled. */
function widths(): string {
  const parts = ["plane", "strip", "flue"].map((name) => found(`[data-part=${name}]`));
  return parts.map((part) => Math.floor(part?.getBoundingClientRect().width ?? 0)).join(".");
}

function open(page: HTMLElement): void {
  const more = last ? `&after=${encodeURIComponent(last)}` : "";
  source = new EventSource(`${page.dataset["stream"] ?? ""}&width=${widths()}${more}`);
  source.addEventListener("message", (event: MessageEvent<string>) => {
    last = event.lastEventId;
    came = Date.now();
    show(JSON.parse(event.data) as Frame);
  });
  source.addEventListener("error", () => {
    if (source?.readyState !== EventSource.CLOSED) return;
    setTimeout(() => open(page), AGAIN);
  });
}

function stops(): Set<string> {
  return new Set(all("#stops .halt h2").map((each) => each.textContent?.trim() ?? ""));
}

function show(frame: Frame): void {
  for (const [name, text] of Object.entries(frame.parts)) {
    const part = found(`[data-part=${name}]`);
    if (part && !(name !== "stops" && part.contains(document.activeElement))) part.innerHTML = text;
  }
  const page = found("#watching");
  if (page) {
    page.dataset["upto"] = String(frame.upto);
    page.dataset["rows"] = `${page.dataset["rows"] ?? ""}${frame.after}-${frame.upto} `.slice(-4000);
  }
  if ("stops" in frame.parts) interrupt();
  heard(frame.edge, frame.silent);
  const voice = found("[data-voice]");
  if (voice) voice.dataset["say"] = frame.say;
  if (frame.steady && !steady) say(`Steady. ${frame.say}`);
  steady = frame.steady;
}

/** A stop has the screen at once, and is said; one that was there before is not said again. */
function interrupt(): void {
  const now = stops();
  const arose = [...now].filter((each) => !told.has(each));
  told = now;
  if (arose.length === 0) return;
  window.scrollTo({ top: 0, behavior: "instant" });
  const first = found("#stops .halt h2");
  first?.setAttribute("tabindex", "-1");
  first?.focus({ preventScroll: true });
  alarm(arose.join(" "));
}

/** When no frame came for some seconds it is said since when, and the ink thins. */
function look(): void {
  const words = found("#lost");
  if (!words || came === 0) return;
  const gone = Date.now() - came > SILENT;
  if (gone && words.hidden) {
    words.textContent = `This page has heard nothing since ${new Date(came).toLocaleTimeString([], { hour12: false })}; what is drawn is from then. It comes back by itself.`;
  }
  words.hidden = !gone;
  found("#watching")?.classList.toggle("thin", gone);
}
