// Reading aloud with voices of this device, and the screen that stays on.

const voice = {
  // local returns the voices that work on this device alone.
  local() {
    const all = globalThis.speechSynthesis?.getVoices() ?? [];
    const own = all.filter((v) => v.localService);
    return [...own.filter((v) => /^en\b/i.test(v.lang)), ...own.filter((v) => !/^en\b/i.test(v.lang))];
  },

  // say reads a text, after stopping what is being read.
  say(text) {
    if (!loomOptions.aloud || !text) return;
    const own = voice.local();
    if (own.length === 0) return;
    speechSynthesis.cancel();
    const speech = new SpeechSynthesisUtterance(text);
    speech.voice = own.find((v) => v.name === loomOptions.voice) ?? own[0];
    speech.lang = speech.voice.lang;
    speech.rate = loomOptions.pace;
    speechSynthesis.speak(speech);
  },

  stop() {
    globalThis.speechSynthesis?.cancel();
  },
};

const screenOn = { lock: undefined, wanted: false, asking: false };

// keepScreenOn asks the browser to leave the screen on, or no longer. It says so if the
// browser refuses.
async function keepScreenOn(wanted) {
  screenOn.wanted = wanted;
  if (!wanted) {
    const lock = screenOn.lock;
    screenOn.lock = undefined;
    await lock?.release().catch(() => {});
    return;
  }
  if (screenOn.lock || screenOn.asking || document.visibilityState !== "visible") return;
  screenOn.asking = true;
  try {
    const lock = await navigator.wakeLock.request("screen");
    lock.addEventListener("release", () => { if (screenOn.lock === lock) screenOn.lock = undefined; });
    screenOn.lock = lock;
    if (!screenOn.wanted) keepScreenOn(false);
    byId("loom-screen").textContent = "";
  } catch {
    byId("loom-screen").textContent = "This browser doesn't keep the screen on. Set your device so that it stays on.";
  } finally {
    screenOn.asking = false;
  }
}
