// Runs of the program, one after another, in a worker. A run is stopped by ending the
// worker; the compiled program stays here and goes to the next one.

class Stopped extends Error {}

// runsOfWorker is how many runs a worker makes. Then a new one takes its place, which gives
// back the memory of ended runs at once.
const runsOfWorker = 40;

const program = { worker: undefined, runs: 0, current: undefined, last: Promise.resolve(), watchers: [] };

program.compiled = (async () => {
  const holder = document.getElementById("program");
  const bytes = fromBase64(holder.textContent);
  holder.remove();
  const unpacked = new Response(new Blob([bytes]).stream().pipeThrough(new DecompressionStream("gzip")));
  return WebAssembly.compile(await unpacked.arrayBuffer());
})();

function fromBase64(text) {
  if (Uint8Array.fromBase64) return Uint8Array.fromBase64(text);
  const letters = atob(text);
  const bytes = new Uint8Array(letters.length);
  for (let i = 0; i < letters.length; i++) bytes[i] = letters.charCodeAt(i);
  return bytes;
}

const workerPlace = URL.createObjectURL(new Blob([document.getElementById("worker").textContent], { type: "text/javascript" }));

async function startWorker() {
  const worker = new Worker(workerPlace);
  worker.postMessage({ compiled: await program.compiled });
  return worker;
}

// inWorker runs the program once. Files is a Map from paths to bytes.
async function inWorker(args, files) {
  program.worker ??= startWorker();
  const worker = await program.worker;
  return new Promise((resolve, reject) => {
    const end = (settle, value) => {
      program.current = undefined;
      worker.onmessage = worker.onerror = null;
      settle(value);
    };
    const drop = () => {
      worker.terminate();
      program.runs = 0;
      program.worker = undefined;
    };
    program.current = { stop() { drop(); end(reject, new Stopped("You stopped it.")); } };
    worker.onmessage = ({ data }) => {
      if (data.failure === undefined) {
        if (++program.runs >= runsOfWorker) drop();
        return end(resolve, data);
      }
      drop();
      end(reject, new Error("fettle failed: " + data.failure + ". Try a smaller file, or close other tabs."));
    };
    worker.onerror = (event) => {
      event.preventDefault();
      drop();
      end(reject, new Error("fettle failed: " + event.message + ". Try a smaller file, or close other tabs."));
    };
    worker.postMessage({ args, files });
  });
}

// runProgram queues a run: {status, stdout, stderr, written, deleted}. The label says what it
// does, for the progress that shows after half a second. A run that isn't wanted any more
// when its turn comes is skipped and gives undefined.
function runProgram(args, files, label = "Working", wanted = () => true) {
  const turn = program.last.then(async () => {
    if (!wanted()) return undefined;
    for (const watch of program.watchers) watch(label);
    try {
      return await inWorker(args, files);
    } finally {
      for (const watch of program.watchers) watch("");
    }
  });
  program.last = turn.catch(() => {});
  return turn;
}

function stopProgram() {
  program.current?.stop();
}

const toBytes = (content) => {
  if (typeof content === "string") return new TextEncoder().encode(content);
  if (content instanceof ArrayBuffer) return new Uint8Array(content);
  if (ArrayBuffer.isView(content)) return new Uint8Array(content.buffer, content.byteOffset, content.byteLength);
  throw new TypeError("a file must be text or a Uint8Array");
};

const toText = (bytes) => new TextDecoder().decode(bytes);

// window.fettle.run runs the program with arguments, over files by path. It gives the exit
// status, both outputs and all files afterwards, as bytes. The file "-" is standard input.
window.fettle = Object.freeze({
  async run(args, files = {}) {
    if (!Array.isArray(args)) throw new TypeError("the arguments must be a list, as in fettle.run(['lint', 'towel.wif'], {'towel.wif': text})");
    const given = files instanceof Map ? files : Object.entries(files);
    const inputs = new Map([...given].map(([path, content]) => [path, toBytes(content)]));
    const { status, stdout, stderr, written, deleted } = await runProgram(args.map(String), inputs);
    const after = new Map(inputs);
    after.delete("-");
    for (const path of deleted) after.delete(path);
    for (const [path, bytes] of written) after.set(path, bytes);
    return { status, stdout, stderr, files: Object.fromEntries(after) };
  },
  stop: stopProgram,
});
