// Files in memory, with the calls of Node's fs that Go makes. Each run gets its own.

const homeFolder = "/home";

class FileError extends Error {
  constructor(code) {
    super(code);
    this.code = code; // Go knows Node's codes
  }
}

class MemoryFiles {
  // inputs is a Map from paths to bytes. The path "-" is standard input.
  constructor(inputs) {
    this.nextInode = 1;
    this.root = this.newFolder();
    this.inputs = inputs;
    this.printed = { 1: [], 2: [] };
    this.open = new Map([[0, { node: this.newFile(inputs.get("-") ?? new Uint8Array()), place: 0 }]]);
    this.nextDescriptor = 3;
    this.makeFolder(homeFolder);
    for (const [path, bytes] of inputs) if (path !== "-") this.addInput(path, bytes);
  }

  newFolder() {
    return { inode: this.nextInode++, mode: 0o40755, entries: new Map(), modified: Date.now() };
  }

  newFile(bytes) {
    return { inode: this.nextInode++, mode: 0o100644, bytes, size: bytes.length, links: 1, modified: Date.now(), original: bytes };
  }

  parts(path) {
    return (path.startsWith("/") ? path : homeFolder + "/" + path).split("/").filter((part) => part !== "" && part !== ".");
  }

  // find returns the node at a path, undefined if there is none, with its folder and name.
  find(path) {
    const trail = [this.root];
    const parts = this.parts(path);
    for (const part of parts) {
      const here = trail.at(-1);
      if (!here) throw new FileError("ENOENT");
      if (!here.entries) throw new FileError("ENOTDIR");
      if (part !== "..") trail.push(here.entries.get(part));
      else if (trail.length > 1) trail.pop();
    }
    const node = trail.at(-1);
    if (path.endsWith("/") && node && !node.entries) throw new FileError("ENOTDIR");
    return { node, folder: trail.at(-2), name: parts.at(-1) };
  }

  existing(path) {
    const found = this.find(path);
    if (!found.node) throw new FileError("ENOENT");
    return found;
  }

  file(descriptor) {
    const file = this.open.get(descriptor);
    if (!file) throw new FileError("EBADF");
    return file;
  }

  makeFolder(path) {
    let here = this.root;
    for (const part of this.parts(path)) {
      if (part === "..") throw new FileError("EINVAL");
      if (!here.entries.has(part)) here.entries.set(part, this.newFolder());
      here = here.entries.get(part);
      if (!here.entries) throw new FileError("ENOTDIR");
    }
    return here;
  }

  addInput(path, bytes) {
    const { folder, name } = this.placeFor(path);
    folder.entries.set(name, this.newFile(bytes));
  }

  // normal returns an absolute path without dots.
  normal(path) {
    const parts = [];
    for (const part of this.parts(path)) part === ".." ? parts.pop() : parts.push(part);
    return "/" + parts.join("/");
  }

  placeFor(path) {
    const parts = this.parts(this.normal(path));
    const name = parts.pop();
    const folder = this.makeFolder("/" + parts.join("/"));
    if (name === undefined || folder.entries.get(name)?.entries) throw new FileError("EISDIR");
    return { folder, name };
  }

  resize(node, size) {
    if (node.bytes === node.original || size > node.bytes.length) { // never change the caller's bytes
      const larger = new Uint8Array(Math.max(size, Math.min(2 * node.bytes.length, node.bytes.length + 1e7)));
      larger.set(node.bytes.subarray(0, Math.min(node.size, size)));
      node.bytes = larger;
    }
    if (size < node.size) node.bytes.fill(0, size, node.size);
    node.size = size;
    node.original = undefined;
    node.modified = Date.now();
  }

  write(descriptor, bytes, position) {
    if (this.printed[descriptor]) {
      this.printed[descriptor].push(bytes.slice());
      return bytes.length;
    }
    const file = this.file(descriptor);
    if (!file.writes) throw new FileError("EBADF");
    const at = file.appends ? file.node.size : position ?? file.place;
    this.resize(file.node, Math.max(file.node.size, at + bytes.length));
    file.node.bytes.set(bytes, at);
    if (position === null || position === undefined) file.place = at + bytes.length;
    return bytes.length;
  }

  read(descriptor, into, position) {
    const file = this.file(descriptor);
    if (file.node.entries) throw new FileError("EISDIR");
    const at = position ?? file.place;
    const count = Math.max(0, Math.min(into.length, file.node.size - at));
    into.set(file.node.bytes.subarray(at, at + count));
    if (position === null || position === undefined) file.place = at + count;
    return count;
  }

  openFile(path, flags, mode) {
    const { folder, name, node: there } = this.find(path);
    const writes = (flags & 3) !== 0;
    let node = there;
    if (node) {
      if (flags & modes.O_CREAT && flags & modes.O_EXCL) throw new FileError("EEXIST");
      if (node.entries && (writes || flags & modes.O_CREAT)) throw new FileError("EISDIR");
      if (!node.entries && flags & modes.O_DIRECTORY) throw new FileError("ENOTDIR");
      if (flags & modes.O_TRUNC && writes) this.resize(node, 0);
    } else {
      if (!(flags & modes.O_CREAT)) throw new FileError("ENOENT");
      if (path.endsWith("/")) throw new FileError("EISDIR");
      node = this.newFile(new Uint8Array());
      node.original = undefined;
      node.mode = 0o100000 | (mode & 0o777);
      folder.entries.set(name, node);
    }
    const descriptor = this.nextDescriptor++;
    this.open.set(descriptor, { node, writes, appends: (flags & modes.O_APPEND) !== 0, place: 0 });
    return descriptor;
  }

  status(node) {
    const size = node.entries ? 4096 : node.size;
    return {
      dev: 1, ino: node.inode, mode: node.mode, nlink: node.links ?? 1, uid: 1000, gid: 1000, rdev: 0, size,
      blksize: 4096, blocks: Math.ceil(size / 512), atimeMs: node.modified, mtimeMs: node.modified, ctimeMs: node.modified,
      isDirectory: () => node.entries !== undefined,
    };
  }

  descriptorStatus(descriptor) {
    if (descriptor > 2) return this.status(this.file(descriptor).node);
    return { ...this.status(this.file(0).node), mode: 0o10600, size: 0, ino: 1e6 + descriptor }; // a pipe
  }

  unlink(path) {
    const { folder, name, node } = this.existing(path);
    if (node.entries) throw new FileError("EISDIR");
    folder.entries.delete(name);
    node.links--;
  }

  removeFolder(path) {
    const { folder, name, node } = this.existing(path);
    if (!node.entries) throw new FileError("ENOTDIR");
    if (node.entries.size > 0) throw new FileError("ENOTEMPTY");
    if (!folder) throw new FileError("EBUSY");
    folder.entries.delete(name);
  }

  createFolder(path, mode) {
    const { folder, name, node } = this.find(path);
    if (node) throw new FileError("EEXIST");
    const made = this.newFolder();
    made.mode = 0o40000 | (mode & 0o777);
    folder.entries.set(name, made);
  }

  rename(from, to) {
    const old = this.existing(from);
    const place = this.find(to);
    if (place.node === old.node) return;
    if (place.node) {
      if (place.node.entries && !old.node.entries) throw new FileError("EISDIR");
      if (!place.node.entries && old.node.entries) throw new FileError("ENOTDIR");
      if (place.node.entries?.size > 0) throw new FileError("ENOTEMPTY");
    }
    if (old.node.entries && this.contains(old.node, place.folder)) throw new FileError("EINVAL");
    old.folder.entries.delete(old.name);
    place.folder.entries.set(place.name, old.node);
  }

  contains(folder, node) {
    return folder === node || [...folder.entries.values()].some((e) => e.entries && this.contains(e, node));
  }

  link(path, to) {
    const { node } = this.existing(path);
    const place = this.find(to);
    if (place.node) throw new FileError("EEXIST");
    if (node.entries) throw new FileError("EPERM");
    node.links++;
    place.folder.entries.set(place.name, node);
  }

  // changes returns the files that the run wrote, and the paths of inputs that it deleted.
  changes() {
    const written = new Map();
    const known = new Map();
    for (const path of this.inputs.keys()) if (path !== "-") known.set(this.normal(path), path);
    const walk = (folder, prefix) => {
      for (const [name, node] of folder.entries) {
        const path = prefix + "/" + name;
        if (node.entries) {
          walk(node, path);
          continue;
        }
        const input = known.get(path);
        known.delete(path);
        if (input !== undefined && node.original !== undefined && node.original === this.inputs.get(input)) continue;
        const shown = path.startsWith(homeFolder + "/") ? path.slice(homeFolder.length + 1) : path;
        written.set(input ?? shown, node.bytes.slice(0, node.size));
      }
    };
    walk(this.root, "");
    return { written, deleted: [...known.values()] };
  }

  output(descriptor) {
    const chunks = this.printed[descriptor];
    const all = new Uint8Array(chunks.reduce((sum, chunk) => sum + chunk.length, 0));
    let at = 0;
    for (const chunk of chunks) {
      all.set(chunk, at);
      at += chunk.length;
    }
    return all;
  }
}

// modes has Linux's values of Node's constants.
const modes = { O_RDONLY: 0, O_WRONLY: 1, O_RDWR: 2, O_CREAT: 64, O_EXCL: 128, O_TRUNC: 512, O_APPEND: 1024, O_DIRECTORY: 65536 };

// nodeCalls returns the files as Node's fs: each call answers through its last argument.
function nodeCalls(files) {
  const answer = (work) => (...args) => {
    const callback = args.pop();
    let result;
    try {
      result = work(...args);
    } catch (error) {
      if (!(error instanceof FileError)) throw error;
      callback(error);
      return;
    }
    callback(null, result);
  };
  const nothing = () => {};
  const missing = () => { throw new FileError("ENOSYS"); };
  return {
    constants: modes,
    writeSync: (descriptor, bytes) => files.write(descriptor, bytes, null),
    write: answer((descriptor, buffer, offset, length, position) => files.write(descriptor, buffer.subarray(offset, offset + length), position)),
    read: answer((descriptor, buffer, offset, length, position) => files.read(descriptor, buffer.subarray(offset, offset + length), position)),
    open: answer((path, flags, mode) => files.openFile(path, flags, mode)),
    close: answer((descriptor) => { files.file(descriptor); files.open.delete(descriptor); }),
    stat: answer((path) => files.status(files.existing(path).node)),
    lstat: answer((path) => files.status(files.existing(path).node)),
    fstat: answer((descriptor) => files.descriptorStatus(descriptor)),
    readdir: answer((path) => {
      const { node } = files.existing(path);
      if (!node.entries) throw new FileError("ENOTDIR");
      return [...node.entries.keys()];
    }),
    mkdir: answer((path, mode) => files.createFolder(path, mode)),
    rmdir: answer((path) => files.removeFolder(path)),
    unlink: answer((path) => files.unlink(path)),
    rename: answer((from, to) => files.rename(from, to)),
    link: answer((path, to) => files.link(path, to)),
    truncate: answer((path, size) => {
      const { node } = files.existing(path);
      if (node.entries) throw new FileError("EISDIR");
      files.resize(node, size);
    }),
    ftruncate: answer((descriptor, size) => files.resize(files.file(descriptor).node, size)),
    chmod: answer((path, mode) => { const { node } = files.existing(path); node.mode = (node.mode & ~0o777) | (mode & 0o777); }),
    fchmod: answer((descriptor, mode) => { const { node } = files.file(descriptor); node.mode = (node.mode & ~0o777) | (mode & 0o777); }),
    utimes: answer((path, _, modified) => { files.existing(path).node.modified = modified * 1000; }),
    fsync: answer(nothing), chown: answer(nothing), fchown: answer(nothing), lchown: answer(nothing),
    readlink: answer((path) => { files.existing(path); throw new FileError("EINVAL"); }), // nothing is a link
    symlink: answer(missing),
  };
}
