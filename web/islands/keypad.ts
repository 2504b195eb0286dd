// Number keys on the page, for gloves and for phones whose own keys have no minus sign.
import { all, found, held, hold } from "./found";

const OPEN = "fluewright-number-keys";

export function keypad(): void {
  all<HTMLButtonElement>("#dock [data-key]").forEach((key) => (key.hidden = false));
  show(held(OPEN) === "yes");
}

function show(open: boolean): void {
  const pad = found("#pad");
  const line = found<HTMLInputElement>("#line");
  const key = found<HTMLButtonElement>('[data-key="pad"]');
  if (!pad || !line || !key) return;
  pad.hidden = !open;
  key.textContent = open ? "abc" : "123";
  key.setAttribute("aria-label", open ? "abc, letters" : "123, number keys");
  key.setAttribute("aria-pressed", String(open));
  // The keys of the phone itself stay down while these are up.
  line.inputMode = open ? "none" : "text";
}

/** A line with one key more. */
export function typed(line: string, key: string): string {
  const cut = line.lastIndexOf(" ") + 1;
  const before = line.slice(0, cut);
  const last = line.slice(cut);
  if (key === "back") return line.slice(0, -1);
  if (key === "sign") return before + (/^[-−]/.test(last) ? last.slice(1) : `-${last}`);
  if (key === ">") return before + (last.startsWith(">") ? last.slice(1) : `>${last}`);
  return line + key;
}

document.addEventListener("click", (event) => {
  const target = event.target instanceof Element ? event.target.closest<HTMLElement>("[data-key],[data-fill]") : null;
  const line = found<HTMLInputElement>("#line");
  if (!target || !line) return;
  const fill = target.dataset["fill"];
  const key = target.dataset["key"];
  if (fill !== undefined) {
    event.preventDefault();
    line.value = fill;
  } else if (key === "pad") {
    const open = held(OPEN) !== "yes";
    hold(OPEN, open ? "yes" : "");
    show(open);
  } else if (key) {
    line.value = typed(line.value, key);
  }
  line.focus({ preventScroll: true });
  const gap = line.value.search(/= ?s;|=$/);
  if (fill !== undefined && gap >= 0) line.setSelectionRange(gap + 1, gap + 1);
  line.dispatchEvent(new Event("input", { bubbles: true }));
});
