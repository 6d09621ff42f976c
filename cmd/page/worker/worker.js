// The worker runs the program: one run at a time, each with an instance and files of its
// own. The page sends the compiled program first, then runs.

let compiled;

onmessage = async ({ data }) => {
  if (data.compiled) {
    compiled = data.compiled;
    return;
  }
  try {
    const result = await runProgram(data.args, data.files);
    const bytes = [result.stdout, result.stderr, ...result.written.values()];
    postMessage(result, [...new Set(bytes.map((b) => b.buffer))]);
  } catch (error) {
    postMessage({ failure: String(error) });
  }
};

async function runProgram(args, inputs) {
  const files = new MemoryFiles(inputs);
  globalThis.fs = nodeCalls(files);
  globalThis.path = { resolve: (...parts) => files.normal(parts.join("/")) };
  globalThis.process = {
    getuid: () => 1000, getgid: () => 1000, geteuid: () => 1000, getegid: () => 1000, getgroups: () => [1000],
    pid: 1, ppid: 1, umask: () => 0o022, cwd: () => homeFolder, chdir() { throw new FileError("ENOSYS"); },
  };
  const go = new Go();
  let status;
  go.argv = ["fettle", ...args];
  go.exit = (code) => {
    status = code;
    for (const timer of go._scheduledTimeouts.values()) clearTimeout(timer); // they would resume a program that has ended
    go._scheduledTimeouts.clear();
  };
  await go.run(await WebAssembly.instantiate(compiled, go.importObject));
  return { status, stdout: files.output(1), stderr: files.output(2), ...files.changes() };
}
