// The recording, when one was given: it plays from two seconds before what was chosen, and the time line follows.

import { $ } from "./make.js";
import { listen } from "./state.js";
import { moveNow } from "./line.js";

const BEFORE_S = 2;

export function startPlayer() {
  const media = $("media");
  if (!media) return;
  listen("seek", (seconds) => {
    media.currentTime = Math.max(0, seconds - BEFORE_S);
    media.play().catch(() => undefined);
  });
  media.addEventListener("timeupdate", () => moveNow(media.currentTime));
}

export function playOrPause() {
  const media = $("media");
  if (!media) return;
  if (media.paused) media.play().catch(() => undefined);
  else media.pause();
}
