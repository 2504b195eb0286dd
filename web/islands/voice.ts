// Spoken words and a tone, for eyes that are elsewhere; silent until somebody asks for it on this page.
import { found } from "./found";
import { isOn, optedBy } from "./opted";

const ON = "fluewright-speak";

export function voice(): void {
  if (!("speechSynthesis" in window)) return;
  optedBy("[data-voice]", ON, (on, key) => {
    if (on) say(key.dataset["say"] ?? found("#asked")?.innerText ?? "");
    else window.speechSynthesis.cancel();
  });
}

export function say(words: string): void {
  if (!isOn(ON) || !words || !("speechSynthesis" in window)) return;
  window.speechSynthesis.cancel();
  window.speechSynthesis.speak(new SpeechSynthesisUtterance(words));
}

/** Danger: three rising tones, then the words, where sound was asked for. */
export function alarm(words: string): void {
  if (!isOn(ON)) return;
  if ("AudioContext" in window) {
    const sound = new AudioContext();
    [440, 660, 880].forEach((pitch, index) => {
      const tone = sound.createOscillator();
      const begins = sound.currentTime + index * 0.22;
      tone.frequency.value = pitch;
      tone.connect(sound.destination);
      tone.start(begins);
      tone.stop(begins + 0.18);
    });
  }
  say(words);
}
