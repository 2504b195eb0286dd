/** The first element of a kind that a selector finds; null when there is none. */
export function found<E extends HTMLElement>(selector: string, within: ParentNode = document): E | null {
  return within.querySelector<E>(selector);
}

export function all<E extends HTMLElement>(selector: string, within: ParentNode = document): E[] {
  return [...within.querySelectorAll<E>(selector)];
}

/** What a browser may refuse to keep is no reason to stop. */
export function held(name: string): string {
  try {
    return sessionStorage.getItem(name) ?? "";
  } catch {
    return "";
  }
}

export function hold(name: string, value: string): void {
  try {
    if (value) sessionStorage.setItem(name, value);
    else sessionStorage.removeItem(name);
  } catch {
    // A private window: it is then simply not remembered.
  }
}
