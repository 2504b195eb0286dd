// A photograph in two taps: the word, the shutter. It goes on its own, by the same form as without script.
import { all, found } from "./found";

export function photographs(): void {
  const form = found<HTMLFormElement>("#photo");
  const picture = form ? found<HTMLInputElement>("input[type=file]", form) : null;
  if (!form || !picture) return;
  for (const word of all<HTMLAnchorElement>("[data-photo]")) {
    word.addEventListener("click", (event) => {
      event.preventDefault();
      picture.click();
    });
  }
  picture.addEventListener("change", () => {
    if (!picture.files?.length) return;
    all("[data-photo]").forEach((word) => (word.textContent = "keeping it"));
    form.requestSubmit();
  });
}
