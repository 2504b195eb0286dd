// A tap on a line opens what stands behind it: its workings, striking out, amending.
import htmx from "htmx.org";
import { all, found } from "./found";

export function openLines(): void {
  const visit = found("main.visit")?.dataset["visit"];
  if (!visit) return;
  for (const line of all("main.visit .line[id^=l]")) {
    const number = found(".no", line);
    if (!number || number.querySelector("a")) continue;
    const link = document.createElement("a");
    link.href = `/visit/${visit}/lines/${line.id.slice(1)}`;
    link.textContent = number.textContent;
    link.setAttribute("aria-label", `line ${number.textContent}: what stands behind it`);
    number.replaceChildren(link);
    line.classList.add("opens");
  }
}

document.addEventListener("click", (event) => {
  const target = event.target instanceof Element ? event.target : null;
  const line = target?.closest<HTMLElement>(".line.opens");
  const link = line?.querySelector<HTMLAnchorElement>(".no a");
  const followed = target?.closest("a");
  const leadsBehind = followed !== null && followed !== undefined && followed.href.startsWith(link?.href ?? " ");
  if (!target || !line || !link || (target.closest("a,button,input,summary") && !leadsBehind)) return;
  if (window.getSelection()?.toString()) return;
  event.preventDefault();
  const beneath = line.nextElementSibling;
  if (beneath?.classList.contains("opened")) {
    beneath.remove();
    return;
  }
  const opened = document.createElement("div");
  opened.className = "opened";
  line.after(opened);
  htmx.ajax("GET", link.href, { source: opened, target: opened, select: ".behind", swap: "innerHTML" });
});
