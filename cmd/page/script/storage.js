// What the browser keeps between visits. Every use may be refused, or find it full.

const storagePrefix = "fettle/1/"; // the number goes up when the meaning of a key changes

let storageFailed = false; // the browser keeps nothing

function stored(key) {
  try {
    return JSON.parse(localStorage.getItem(storagePrefix + key)) ?? undefined;
  } catch {
    return undefined;
  }
}

// restored returns what keep has kept in this tab, if the page was reloaded.
function restored(key) {
  try {
    const [visit] = performance.getEntriesByType("navigation");
    return visit.type === "navigate" ? undefined : JSON.parse(sessionStorage.getItem(storagePrefix + key)) ?? undefined;
  } catch {
    return undefined;
  }
}

// keep keeps a value for a reload of this tab, or deletes the key if it is undefined.
function keep(key, value) {
  try {
    if (value === undefined) sessionStorage.removeItem(storagePrefix + key);
    else sessionStorage.setItem(storagePrefix + key, JSON.stringify(value));
  } catch {
    // refused or full: the value is lost at a reload
  }
}

// store keeps a value, or deletes the key if the value is undefined. It makes room by
// deleting ticks of other sheets. It reports whether the value is kept.
function store(key, value) {
  try {
    if (value === undefined) {
      localStorage.removeItem(storagePrefix + key);
      return true;
    }
    for (;;) {
      try {
        localStorage.setItem(storagePrefix + key, JSON.stringify(value));
        return true;
      } catch (error) {
        const ticks = Object.keys(localStorage).find((k) => k.startsWith(storagePrefix + "ticks/") && k !== storagePrefix + key);
        if (!ticks) throw error;
        localStorage.removeItem(ticks);
      }
    }
  } catch {
    storageFailed = true;
    return false;
  }
}
