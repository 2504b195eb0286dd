// A visit opens at its next empty line; after a line was kept the next one is in sight again.
import { found } from "./found";

export function place(): void {
  const line = found<HTMLInputElement>("#line");
  if (!line || location.hash) return;
  if (found(".halt[role=alert]")) return;
  const next = found(".line.todo.now") ?? found("#now");
  const dock = found("#dock");
  if (next && dock) {
    const low = window.innerHeight - dock.getBoundingClientRect().height;
    window.scrollBy({ top: next.getBoundingClientRect().bottom - low + 8, behavior: "instant" });
  }
  line.focus({ preventScroll: true });
}
