// The place at the loom: kept in the browser's database at each step, and in files.

const places = {
  database: undefined, // a promise, after the first use
  pending: undefined, // the newest place that isn't written yet
  writing: undefined, // a promise while a place is being written
  failed: "", // why places aren't kept
};

const mostPlaces = 50;
const stores = ["places", "sources", "views"]; // places at the loom, their drafts, and the view that was open

// openPlaces opens the database. Every browser may refuse it.
function openPlaces() {
  places.database ??= new Promise((resolve, reject) => {
    const request = indexedDB.open("fettle", 2);
    request.onupgradeneeded = () => {
      for (const name of stores) if (!request.result.objectStoreNames.contains(name)) request.result.createObjectStore(name, { keyPath: "key" });
    };
    request.onsuccess = () => {
      request.result.onversionchange = () => request.result.close();
      resolve(request.result);
    };
    request.onerror = () => reject(request.error);
    request.onblocked = () => reject(new Error("another window has it open"));
  });
  return places.database;
}

// inPlaces makes one change of the database, on the disk before it ends, or reads it.
async function inPlaces(mode, action) {
  const database = await openPlaces();
  return new Promise((resolve, reject) => {
    const transaction = database.transaction(stores, mode, { durability: "strict" });
    const request = action(...stores.map((name) => transaction.objectStore(name)));
    transaction.oncomplete = () => resolve(request?.result);
    transaction.onerror = () => reject(transaction.error);
    transaction.onabort = () => reject(transaction.error ?? new Error("it stopped"));
  });
}

// allPlaces returns the places that are kept, the newest first.
async function allPlaces() {
  let list;
  try {
    list = await inPlaces("readonly", (kept) => kept.getAll());
  } catch (error) {
    places.failed = error?.message || "it is refused";
    const kept = stored("loom-place");
    list = kept ? [kept] : [];
  }
  return list.filter(isPlace).sort((a, b) => b.time - a.time);
}

// keepLoomPlace writes a place. If one is being written, only the newest waits.
function keepLoomPlace(at) {
  places.pending = structuredClone(at);
  places.writing ??= (async () => {
    while (places.pending) {
      const next = places.pending;
      places.pending = undefined;
      try {
        await inPlaces("readwrite", (kept) => kept.put(next));
        places.failed = "";
      } catch (error) {
        places.failed = error?.message || "it is refused";
        if (store("loom-place", next)) places.failed = "";
      }
    }
    places.writing = undefined;
  })();
  return places.writing;
}

// keepSource keeps the draft and the settings of a place once, and drops the oldest places.
async function keepSource(key, source) {
  const old = (await allPlaces()).slice(mostPlaces);
  try {
    await inPlaces("readwrite", (kept, sources) => {
      for (const { key: gone } of old) {
        kept.delete(gone);
        sources.delete(gone);
      }
      return sources.put({ key, path: source.path, files: [...source.files] });
    });
  } catch {
    store("loom-source", { key, path: source.path, files: [...source.files].map(([path, bytes]) => [path, toBase64(bytes)]) });
  }
}

async function sourceOf(key) {
  let kept;
  try {
    kept = await inPlaces("readonly", (_, sources) => sources.get(key));
  } catch {
    const text = stored("loom-source");
    if (text?.key === key) kept = { path: text.path, files: text.files.map(([path, bytes]) => [path, fromBase64(bytes)]) };
  }
  return kept && { path: kept.path, files: new Map(kept.files) };
}

const toBase64 = (bytes) => {
  let text = "";
  for (let i = 0; i < bytes.length; i += 8192) text += String.fromCharCode(...bytes.subarray(i, i + 8192));
  return btoa(text);
};

const isObject = (x) => typeof x === "object" && x !== null && !Array.isArray(x);
const isCount = (x) => Number.isSafeInteger(x) && x >= 0;

// isPlace reports whether something has the shape of a place. It may come from a file.
function isPlace(x) {
  return isObject(x) && typeof x.key === "string" && typeof x.path === "string" && typeof x.step === "string" && Number.isFinite(x.time) &&
    isObject(x.at) && Object.values(x.at).every(isCount) && isObject(x.reached) && Object.values(x.reached).every(isCount) &&
    Array.isArray(x.done) && x.done.every((id) => typeof id === "string") && isObject(x.days) && Object.values(x.days).every(isCount) &&
    Array.isArray(x.notes) && x.notes.length <= 10_000 && x.notes.every((n) => isObject(n) && [n.step, n.where, n.text].every((t) => typeof t === "string"));
}

// placeFile writes a place, with its draft and settings, for another device.
function placeFile(at, source) {
  return JSON.stringify({ fettle_loom: 1, place: at, path: source.path, files: Object.fromEntries([...source.files].map(([path, bytes]) => [path, toBase64(bytes)])) }, undefined, 1) + "\n";
}

// readPlaceFile reads such a file.
function readPlaceFile(text) {
  const wrong = new Error("This file holds no place at the loom. Choose one that you saved with \"Save my place to a file\".");
  let file;
  try {
    file = JSON.parse(text);
    if (file.fettle_loom !== 1 || !isPlace(file.place) || typeof file.path !== "string" || !isObject(file.files)) throw wrong;
    return { place: file.place, source: { path: file.path, files: new Map(Object.entries(file.files).map(([path, bytes]) => [path, fromBase64(bytes)])) } };
  } catch {
    throw wrong;
  }
}

// fingerprint returns a short hash of what the lines of a plan are made of.
function fingerprint(plan) {
  const { groups, warps, heddles, sley, lifts, tieup, tieup_down, plain_hem, stretches, raddle, shafts_go, length_unit } = plan;
  const text = JSON.stringify([groups, warps, heddles, sley, lifts, tieup, tieup_down, plain_hem, stretches, raddle, shafts_go, length_unit, plan.steps.map((s) => s.step)]);
  let a = 0xdeadbeef;
  let b = 0x41c6ce57;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    a = Math.imul(a ^ c, 2654435761);
    b = Math.imul(b ^ c, 1597334677);
  }
  a = Math.imul(a ^ (a >>> 16), 2246822507) ^ Math.imul(b ^ (b >>> 13), 3266489909);
  b = Math.imul(b ^ (b >>> 16), 2246822507) ^ Math.imul(a ^ (a >>> 13), 3266489909);
  return (b >>> 0).toString(16).padStart(8, "0") + (a >>> 0).toString(16).padStart(8, "0");
}
