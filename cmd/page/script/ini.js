// The text of a fettle.ini: what it states, line by line, and edits that leave every other
// line as it is.

// folded returns a name for comparison, as the program compares names.
const folded = (name) => name.toLowerCase().split(/[\s_-]+/).filter(Boolean).join(" ");

// readIni returns the lines of a text: {heading} or {key, value, from, to, note}, the place
// of the value and whether a comment follows it. Each has the text of the line, and section
// and name of the section that it is in.
function readIni(text) {
  let section = "";
  let name = "";
  return text.replace(/^\ufeff/, " ").split("\n").map((text) => {
    const body = text.trim();
    if (body === "" || /^[;#]/.test(body)) return { text, section, name };
    if (body.startsWith("[")) {
      const heading = body.replace(/^;.*|\s;.*$/, "").trim();
      if (!heading.endsWith("]")) return { text, section: undefined, name: "" };
      const [word, ...rest] = heading.slice(1, -1).trim().split(/\s+/);
      section = folded(word);
      name = rest.join(" ");
      return { text, section, name, heading: true };
    }
    const equals = text.indexOf("=");
    if (equals < 0) return { text, section, name };
    const after = text.slice(equals + 1);
    const comment = /^\s*;|\s;/.exec(after);
    const value = (comment ? after.slice(0, comment.index) : after).trim();
    const from = equals + 1 + (value === "" ? 0 : after.indexOf(value));
    return { text, section, name, key: folded(text.slice(0, equals)), value, from, to: from + value.length, note: comment !== null };
  });
}

const sameSection = (line, section, name) => line.section === section && (line.name ?? "").toLowerCase() === name.toLowerCase();

// sectionsOf returns the names of the sections of a kind, in the order of the text.
function sectionsOf(lines, section) {
  const names = [];
  for (const line of lines) {
    if (line.heading && line.section === section && !names.some((n) => n.toLowerCase() === line.name.toLowerCase())) names.push(line.name);
  }
  return names;
}

// valueLine returns the number of the line that states a key, from 0, or -1. Of duplicates,
// the first counts.
const valueLine = (lines, section, name, key) => lines.findIndex((line) => line.key === folded(key) && sameSection(line, section, name));

function valueIn(lines, section, name, key) {
  return lines[valueLine(lines, section, name, key)]?.value ?? "";
}

// unusedLine returns the number of the line on which the explained list offers a key, from 0,
// or -1: #shafts = 16 ; how many shafts it has
function unusedLine(lines, section, name, key, example) {
  const start = `#${key} = ${example}`;
  return lines.findIndex((line) => sameSection(line, section, name) && line.text.startsWith(start) && /^\s*(;|$)/.test(line.text.slice(start.length)));
}

// setValue returns the text with a key of a section set to a value; with "" the key goes.
// Keys lists the section's keys in their usual order, and example is the key's own.
function setValue(text, section, name, key, value, keys, example) {
  const lines = readIni(text);
  const ending = text.includes("\r\n") ? "\r" : "";
  const texts = lines.map((line) => line.text);
  if (text.startsWith("\ufeff")) texts[0] = "\ufeff" + texts[0].slice(1);
  const done = () => texts.join("\n");
  value = value.replace(/[\r\n]+/g, " ").trim();

  const at = valueLine(lines, section, name, key);
  if (at >= 0) {
    const line = lines[at];
    const before = texts[at].slice(0, line.from);
    const after = texts[at].slice(line.to);
    if (value !== "") texts[at] = before + (/[=]$/.test(before) ? " " : "") + value + after;
    else if (!line.note) texts.splice(at, 1);
    else texts[at] = example !== undefined ? `#${key} = ${example} ${after.trimStart()}` : after.trimStart();
    return done();
  }
  if (value === "") return text;

  const unused = unusedLine(lines, section, name, key, example);
  if (unused >= 0) {
    const room = value.length - example.length; // keep comments below one another
    const after = texts[unused].slice(`#${key} = ${example}`.length);
    texts[unused] = `${key} = ${value}` + (room > 0 ? after.replace(new RegExp(`^ {1,${room}}(?= )`), "") : " ".repeat(after.trim() ? -room : 0) + after);
    return done();
  }

  const stated = `${key} = ${value}${ending}`;
  const heading = section === "" ? -1 : lines.findIndex((line) => line.heading && sameSection(line, section, name));
  if (section !== "" && heading < 0) {
    while (texts.length > 0 && texts.at(-1).trim() === "") texts.pop();
    if (texts.length > 0) texts.push(texts.pop().replace(/\r?$/, ending), ending);
    texts.push(`[${section}${name ? " " + name : ""}]${ending}`, stated, "");
    return done();
  }
  const order = (word) => /^\d/.test(word) ? keys.length + parseInt(word, 10) : keys.findIndex((k) => folded(k) === word);
  let after = heading;
  for (let i = heading + 1; i < lines.length && !lines[i].heading && lines[i].section !== undefined; i++) {
    const at = lines[i].key === undefined ? -1 : order(lines[i].key);
    if (at >= 0 && at <= order(folded(key))) after = i;
  }
  if (after >= 0) texts[after] = texts[after].replace(/\r?$/, ending);
  texts.splice(after + 1, 0, stated);
  if (after === -1 && texts[1]?.trim().startsWith("[")) texts.splice(1, 0, ending);
  return done();
}

// addSection returns the text with a new section at the end.
function addSection(text, section, name) {
  const ending = text.includes("\r\n") ? "\r\n" : "\n";
  const before = text.trimEnd();
  return (before ? before + ending + ending : "") + `[${section}${name ? " " + name : ""}]` + ending;
}

// removeSection returns the text without a section: its heading, its keys and the comments
// between them. Comments after its last key belong to what follows.
function removeSection(text, section, name) {
  const lines = readIni(text);
  const first = lines.findIndex((line) => line.heading && sameSection(line, section, name));
  if (first < 0) return text;
  let last = first;
  for (let i = first + 1; i < lines.length && !lines[i].heading; i++) if (lines[i].key !== undefined) last = i;
  const texts = text.split("\n");
  if (texts[last + 1]?.trim() === "") last++;
  texts.splice(first, last + 1 - first);
  return texts.join("\n");
}

// renameSection returns the text with another name in the heading of a section.
function renameSection(text, section, name, to) {
  const lines = readIni(text);
  const at = lines.findIndex((line) => line.heading && sameSection(line, section, name));
  if (at < 0) return text;
  const texts = text.split("\n");
  texts[at] = texts[at].replace(/\[[^\]]*\]/, () => `[${section}${to ? " " + to : ""}]`);
  return texts.join("\n");
}
