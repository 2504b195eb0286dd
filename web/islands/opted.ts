// Sound that nobody asked for is a nuisance: a key that turns it on for this browser, and remembers.
import { all, held, hold } from "./found";

/** Whether somebody asked for it. */
export function isOn(name: string): boolean {
  return held(name) === "yes";
}

/** Every key of a kind turns it on and off; `turned` hears which, and from which key. */
export function optedBy(keys: string, name: string, turned: (on: boolean, key: HTMLButtonElement) => void): void {
  for (const key of all<HTMLButtonElement>(keys)) {
    key.hidden = false;
    key.setAttribute("aria-pressed", String(isOn(name)));
    if (key.dataset["ready"]) continue;
    key.dataset["ready"] = "yes";
    key.addEventListener("click", () => {
      const on = !isOn(name);
      hold(name, on ? "yes" : "");
      key.setAttribute("aria-pressed", String(on));
      turned(on, key);
    });
  }
}
