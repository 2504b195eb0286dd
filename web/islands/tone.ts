// A tone for eyes that are elsewhere: silence well inside the window, a pitch that rises towards its edge, two notes
// outside. Silent until somebody asks for it on this page.
import { isOn, optedBy } from "./opted";

const ON = "fluewright-tone";
const QUIET = 0.4;
let sound: AudioContext | null = null;

export function tone(): void {
  if (!("AudioContext" in window)) return;
  optedBy("[data-tone]", ON, (on) => {
    if (on) void context().resume();
  });
}

function context(): AudioContext {
  sound ??= new AudioContext();
  return sound;
}

/** Hertz for a distance to the edge of the window: 1 in its middle, 0 at its edge, below 0 outside; 0 for silence. */
export function pitch(edge: number): number {
  if (edge >= QUIET) return 0;
  return edge >= 0 ? 330 * 2 ** (1 - edge / QUIET) : 880;
}

/** One frame, heard; nothing is heard of a line that is silent, so that a tone always stands for the present. */
export function heard(edge: number | null, silent: boolean): void {
  const bar = edge === null ? 0 : pitch(edge);
  const page = document.documentElement;
  page.dataset["pitch"] = isOn(ON) && !silent ? String(Math.round(bar)) : "";
  if (!isOn(ON) || silent || bar === 0) return;
  note(bar, 0);
  if (edge !== null && edge < 0) note(bar / 1.5, 0.16);
}

function note(hertz: number, after: number): void {
  const made = context();
  const one = made.createOscillator();
  const volume = made.createGain();
  const begins = made.currentTime + after;
  one.frequency.value = hertz;
  volume.gain.setValueAtTime(0.2, begins);
  volume.gain.exponentialRampToValueAtTime(0.001, begins + 0.13);
  one.connect(volume).connect(made.destination);
  one.start(begins);
  one.stop(begins + 0.14);
}
