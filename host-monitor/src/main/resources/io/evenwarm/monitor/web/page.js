"use strict";
// Asks for what is new every few seconds, and says at once when no answer comes: an old number must not look like a new one.
const EVERY_MILLIS = 4000, OLD_MILLIS = 12000, CURVES_MILLIS = 60000;
const now = document.getElementById("now"), old = document.getElementById("old");
let answered = performance.now(), curves = performance.now();

function look() {
  const silent = performance.now() - answered;
  old.hidden = silent < OLD_MILLIS;
  old.textContent = "OLD: no answer from the monitor for " + Math.round(silent / 1000) + " s. What is below was true then.";
  document.body.classList.toggle("gone", silent >= OLD_MILLIS);
}

async function ask() {
  try {
    const answer = await fetch("/now", { signal: AbortSignal.timeout(8000), cache: "no-store" });
    if (answer.status === 401) { location.reload(); return; }
    if (answer.ok) {
      const text = await answer.text();
      // A person who is about to press a button keeps it.
      if (!now.contains(document.activeElement) || document.activeElement.tagName !== "BUTTON") {
        const fresh = document.createElement("template");
        fresh.innerHTML = text;
        const later = performance.now() - curves < CURVES_MILLIS;
        if (later) {
          for (const image of fresh.content.querySelectorAll("img")) {
            const there = [...now.querySelectorAll("img")].find(each => each.alt === image.alt);
            if (there) image.replaceWith(there);
          }
        } else {
          curves = performance.now();
        }
        now.replaceChildren(fresh.content);
      }
      answered = performance.now();
    }
  } catch (trouble) {
    // Told by look(), once it has lasted.
  }
  look();
}

document.addEventListener("visibilitychange", () => { if (!document.hidden) { look(); ask(); } });
setInterval(ask, EVERY_MILLIS);
setInterval(look, 1000);
