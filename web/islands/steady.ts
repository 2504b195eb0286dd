// When the machine behind the page does not answer: it is said, what was typed stays, and it is sent again by itself.
// Each form carries the id it was made with, so that whatever arrives twice is kept once.
import type { Htmx } from "htmx.org";
import { all, found, held, hold } from "./found";

const AGAIN = 1000;
let waiting: { form: HTMLFormElement; by: HTMLElement | null } | null = null;
let asking = false;

interface Told {
  ctx?: { sourceElement?: Element; request?: { submitter?: HTMLElement | null } };
}

export function steady(_htmx: Htmx): void {
  document.addEventListener("htmx:error", (event) => {
    const told = (event as CustomEvent<Told>).detail;
    const source = told.ctx?.sourceElement;
    if (source instanceof HTMLFormElement) waiting = { form: source, by: told.ctx?.request?.submitter ?? null };
    gone();
  });
}

function gone(): void {
  const words = found("#gone");
  if (words) words.hidden = false;
  if (asking) return;
  asking = true;
  setTimeout(ask, AGAIN);
}

async function answers(): Promise<boolean> {
  try {
    return (await fetch("/favicon.ico", { cache: "no-store" })).status < 500;
  } catch {
    return false;
  }
}

async function ask(): Promise<void> {
  if (!(await answers())) {
    setTimeout(ask, AGAIN);
    return;
  }
  asking = false;
  const words = found("#gone");
  if (words) words.hidden = true;
  const again = waiting;
  waiting = null;
  if (again?.form.isConnected) again.form.requestSubmit(again.by);
}

/** Forms of plain pages wait too, instead of leaving for an error of the browser. */
export function guardPlainForms(): void {
  document.addEventListener("submit", (event) => {
    const form = event.target;
    const plain = form instanceof HTMLFormElement && form.method === "post" && !form.hasAttribute("hx-post");
    if (!plain || form.dataset["sent"]) return;
    event.preventDefault();
    void sent(form, event.submitter);
  });
}

async function sent(form: HTMLFormElement, by: HTMLElement | null): Promise<void> {
  if (await answers()) {
    form.dataset["sent"] = "yes";
    form.requestSubmit(by);
    return;
  }
  if (!found("#gone")) {
    const words = document.createElement("p");
    words.id = "gone";
    words.className = "gone";
    words.setAttribute("role", "status");
    words.textContent = "This machine does not answer. What you typed stays here and is sent again by itself.";
    form.prepend(words);
  }
  waiting = { form, by };
  gone();
}

interface Draft {
  what: string;
  fields: Record<string, string>;
}

/** What stands on the open line survives a page that is loaded again, with the id it would be sent under. */
export function keepTyped(): void {
  const form = found<HTMLFormElement>("#open");
  const line = form ? found<HTMLInputElement>("#line", form) : null;
  const visit = found("main.visit")?.dataset["visit"];
  if (!form || !line || !visit) return;
  const name = `fluewright-typed-${visit}`;
  if (found("#said")) hold(name, "");
  line.addEventListener("input", () => {
    form.classList.toggle("words", /^[a-z]/i.test(line.value)); // a name has its own unit, not that of the proposal
    const fields: Record<string, string> = {};
    for (const [key, value] of new FormData(form)) if (typeof value === "string" && key !== "mark") fields[key] = value;
    hold(name, line.value ? JSON.stringify({ what: found(".what", form)?.textContent ?? "", fields }) : "");
  });
  const draft = line.value ? "" : held(name);
  if (draft) restore(form, line, JSON.parse(draft) as Draft);
}

function restore(form: HTMLFormElement, line: HTMLInputElement, draft: Draft): void {
  for (const input of all<HTMLInputElement>("input[type=hidden]", form)) {
    if (input.name !== "mark" && !(input.name in draft.fields)) input.remove();
  }
  for (const [name, value] of Object.entries(draft.fields)) {
    const known = found<HTMLInputElement>(`input[name="${name}"]`, form);
    if (known && known.type !== "radio") {
      known.value = value;
    } else if (known) {
      all<HTMLInputElement>(`input[name="${name}"]`, form).forEach((each) => (each.checked = each.value === value));
    } else {
      const added = document.createElement("input");
      added.type = "hidden";
      added.name = name;
      added.value = value;
      form.append(added);
    }
  }
  const what = found(".what", form);
  if (what) what.textContent = draft.what;
  line.dispatchEvent(new Event("input", { bubbles: true }));
}
