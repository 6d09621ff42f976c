// The lines of each step at the loom, from a plan as JSON. A step has a count of lines and
// makes each when it is shown, so a long work takes no memory.

// spanOf writes ends or picks: "5" or "1–12".
const spanOf = (from, to) => (from === to ? `${from}` : `${from}–${to}`);

const shaftWords = (shafts) => (shafts.length > 0 ? shafts.join(" and ") : "none");
const numbersOr = (numbers, none) => (numbers.length > 0 ? numbers.join(" ") : none);

// lengthOn writes a length as a tape shows it, in the weaver's unit.
function lengthOn(plan, cm) {
  if (plan.length_unit !== "in") return `${Number(cm.toFixed(1))} cm`;
  const quarters = Math.round((cm / 2.54) * 4);
  const part = ["", "1/4", "1/2", "3/4"][quarters % 4];
  return [Math.floor(quarters / 4) || (part ? "" : "0"), part].filter((x) => x !== "").join(" ") + " in";
}

// lastBefore returns the last index whose start isn't above n. Starts ascend.
function lastBefore(starts, n) {
  let low = 0;
  let high = starts.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (starts[middle] <= n) low = middle;
    else high = middle - 1;
  }
  return low;
}

// stepsOf returns the steps of a plan, each {key, id, title, about, count, line(i), brief(i)}.
// Where a step comes twice, the second has a key of its own. A line is {label, numbers, blocks
// or text, where, more, next, say, ...}; in brief it is [label, text].
function stepsOf(plan) {
  const kinds = { heddles: heddleLines, wind: boutLines, sley: dentLines, thread: groupLines, "tie-up": treadleLines, weave: pickLines };
  const met = {};
  const weaves = plan.steps.filter((step) => step.step === "weave").length;
  return plan.steps.map((step) => {
    const time = met[step.step] = (met[step.step] ?? 0) + 1;
    // A sample that is cut off is woven in a step of its own, before the rest.
    const wanted = weaves < 2 ? () => true : (part) => (part.part === "sample") === (time === 1);
    const words = step.at_loom ?? step.text;
    const lines = kinds[step.step]?.(plan, wanted) ?? { count: 0 };
    return { key: time > 1 ? `${step.step}-${time}` : step.step, id: step.step, title: step.title, about: words, ...(lines.count > 0 ? lines : sentenceLines(inWords(words))) };
  });
}

// sentenceLines is a checklist: a line for each sentence.
function sentenceLines(text) {
  const sentences = text.split(/(?<=[.:])\s+(?=[A-Z])/);
  return {
    count: sentences.length, checklist: true,
    brief: (i) => [`${i + 1}`, sentences[i]],
    line: (i) => ({ label: sentences.length > 1 ? `${i + 1} of ${sentences.length}` : "", text: sentences[i], next: sentences[i + 1] ?? "", say: sentences[i] }),
  };
}

function heddleLines(plan) {
  const rows = plan.heddles;
  const text = (h, between = ", ") => (h.needed > 0 ? `${h.first_half} on the right${between}${h.second_half} on the left` : "none");
  const aside = (h) => (h.push_aside ? `Push aside ${h.push_aside.right} to the right and ${h.push_aside.left} to the left.` : "Push any others aside.");
  return {
    count: rows.length, each: "shaft", brief: (i) => [`Shaft ${rows[i].shaft}`, text(rows[i])],
    line: (i) => ({
      label: `Shaft ${rows[i].shaft}: keep ${counted(rows[i].needed, "heddle")}`, text: text(rows[i], "\n"), more: [aside(rows[i]), rows[i].short > 0 ? `${rows[i].short} too few` : ""],
      next: rows[i + 1] ? `shaft ${rows[i + 1].shaft}: ${text(rows[i + 1])}` : "", say: `Shaft ${rows[i].shaft}. Keep ${text(rows[i])}. ${aside(rows[i])}`,
    }),
  };
}

const isHex = (row) => /^#[0-9a-f]{6}$/.test(row?.name ?? "");

// colorName names a color as a weaver would say it; nobody reads #a4452f.
const colorName = (row) => (!row?.name ? "no color" : isHex(row) ? `color ${row.color}` : row.name);

// inSome writes numbers with a wider gap after every few.
function inSome(numbers, apart) {
  const some = [];
  for (let i = 0; i < numbers.length; i += apart) some.push(numbers.slice(i, i + apart).join("\u00a0"));
  return some.join(" \u2003");
}

const colorsOf = (rows) => new Map(rows.map((row) => [row.color, row]));

function boutLines(plan) {
  const bouts = plan.warps.flatMap((warp) => warp.bouts.map((bout) => ({ ...bout, warp })));
  const colors = colorsOf(plan.warp.by_color);
  const blocksOf = (bout) => bout.blocks.map(({ from, to, times }) => ({ times, runs: bout.colors.slice(from - 1, to).map((run) => ({ ends: run.ends, color: colors.get(run.color) ?? {} })) }));
  const lacks = plan.without.warp;
  const order = (bout) => blocksOf(bout).map(({ times, runs }) => {
    const text = runs.map((run) => `${run.ends} ${colorName(run.color)}`).join(", ");
    return times > 1 ? `${times} times (${text})` : text;
  }).join(", then ");
  return {
    count: bouts.length, each: "bout", brief: (i) => [`Bout ${i + 1}`, order(bouts[i])],
    line: (i) => {
      const bout = bouts[i];
      const long = bout.warp.length_m === undefined ? "" : `, each ${lengthOn(plan, bout.warp.length_m * 100)} long`;
      return {
        label: `Bout ${i + 1} of ${bouts.length}, ends ${spanOf(bout.from, bout.to)}`, blocks: blocksOf(bout),
        more: [`${counted(bout.ends, "end")}${long}`, long && lacks.length > 0 ? `Too short to wind: ${lacks.join(", ")} ${lacks.length > 1 ? "aren't" : "isn't"} in it yet.` : "", plan.warps.length > 1 ? `warp ${bout.warp.name}` : ""],
        next: bouts[i + 1] ? `bout ${i + 2}: ${order(bouts[i + 1])}` : "", say: `Bout ${i + 1}: ${order(bout)}.`,
      };
    },
  };
}

// longestOf returns the length of the longest list.
const longestOf = (lists) => lists.reduce((most, list) => Math.max(most, list.length), 1);

// tallyWords counts the ends on each shaft; neighbours with the same count share it.
function tallyWords(tally) {
  const parts = [];
  for (const [shaft, ends] of Object.entries(tally)) {
    const last = parts.at(-1);
    if (last?.ends === ends && last.to === shaft - 1) last.to = Number(shaft);
    else parts.push({ ends, from: Number(shaft), to: Number(shaft) });
  }
  return parts.map(({ ends, from, to }) => (from === to ? `${ends} on ${from}` : `${ends} each on ${to === from + 1 ? `${from} and ${to}` : spanOf(from, to)}`)).join(", ") || "no heddle";
}

const alike = (list) => list.length > 1 && list.every((x) => x === list[0]);

function dentLines(plan) {
  if (!plan.sley) return { count: 0 };
  const half = (tens, side) => tens.map((ten) => ({ ...ten, side, left: tens.at(-1).dents - ten.dents }));
  const longest = 10;
  const rows = [...half(plan.sley.tens.first_half, "right"), ...half(plan.sley.tens.second_half, "left")];
  const dents = (row) => spanOf(row.dents - row.ends.length + 1, row.dents);
  return {
    count: rows.length, brief: (i) => [`${rows[i].side} ${dents(rows[i])}`, inSome(rows[i].ends, 5)],
    line: (i) => {
      const row = rows[i];
      return {
        label: `Dents ${dents(row)}`, numbers: row.ends, longest, apart: 5,
        where: `From the centre to the ${row.side}; ${counted(row.left, "dent")} more on this side`,
        more: [row.from > 0 ? `ends ${row.from} to ${row.to}` : "empty"],
        next: rows[i + 1] ? `${rows[i + 1].side === row.side ? "" : `from the centre to the ${rows[i + 1].side}: `}${inSome(rows[i + 1].ends, 5)}` : "",
        say: `${i === 0 || rows[i - 1].side !== row.side ? `From the centre to the ${row.side}. ` : ""}${alike(row.ends) ? `${counted(row.ends.length, "dent")} with ${row.ends[0]} each` : row.ends.join(", ")}.`,
      };
    },
  };
}

function groupLines(plan) {
  const groups = plan.groups;
  const inFirst = (group) => group.to <= plan.warp.half && group.from <= plan.warp.half;
  const left = [];
  let rest = 0;
  for (let i = groups.length - 1; i >= 0; i--) {
    if (i + 1 < groups.length && inFirst(groups[i]) !== inFirst(groups[i + 1])) rest = 0;
    rest += groups[i].shafts.length;
    left[i] = rest;
  }
  const words = (group) => group.shafts.map((shafts) => (shafts.length > 0 ? shafts.join("+") : "–"));
  const longest = longestOf(groups.map((group) => group.shafts));
  return {
    count: groups.length, ends: true, each: "group", brief: (i) => [`Ends ${spanOf(groups[i].from, groups[i].to)}`, inSome(words(groups[i]), 4)],
    line: (i) => {
      const group = groups[i];
      const side = inFirst(group) ? "right" : "left";
      const begins = i === 0 || inFirst(groups[i - 1]) !== inFirst(group);
      return {
        label: `Ends ${spanOf(group.from, group.to)}`, numbers: words(group), longest, apart: 4, from: group.from, to: group.to,
        where: `${side === "right" ? "Right" : "Left"} half; ${counted(left[i], "end")} left in it`,
        more: [`Count: ${tallyWords(group.tally)}`], next: groups[i + 1] ? inSome(words(groups[i + 1]), 4) : "",
        say: `${begins ? `${side === "right" ? "Right" : "Left"} half. ` : ""}${group.shafts.map(shaftWords).join(", ")}.`,
      };
    },
    find: (end) => groups.findIndex((group) => Math.min(group.from, group.to) <= end && end <= Math.max(group.from, group.to)),
    most: plan.warp.ends, unit: "End", reached: (i) => groups.slice(0, i).reduce((sum, group) => sum + group.shafts.length, 0),
    after: (ends) => { let i = 0; for (let sum = 0; i < groups.length - 1 && sum + groups[i].shafts.length <= ends; i++) sum += groups[i].shafts.length; return i; },
  };
}

function treadleLines(plan) {
  const rows = (plan.tieup ?? []).map((up, i) => ({ treadle: i + 1, up, down: plan.tieup_down?.[i] })).filter((row) => row.up.length + (row.down?.length ?? 0) > 0);
  const longest = longestOf(rows.map((row) => row.up));
  const text = (row, between = "; ") => (row.down ? `up ${numbersOr(row.up, "none")}${between}down ${numbersOr(row.down, "none")}` : row.up.join(" "));
  const spoken = (row) => (row.down ? `up ${row.up.join(", ") || "none"}; down ${row.down.join(", ") || "none"}` : row.up.join(", "));
  return {
    count: rows.length, each: "treadle", brief: (i) => [`Treadle ${rows[i].treadle}`, text(rows[i])],
    line: (i) => ({
      label: `Treadle ${rows[i].treadle}`, ...(rows[i].down ? { text: text(rows[i], "\n") } : { numbers: rows[i].up, longest, apart: 4 }),
      more: [rows[i].down ? "" : `These shafts go ${plan.shafts_go}.`], next: rows[i + 1] ? `treadle ${rows[i + 1].treadle}: ${text(rows[i + 1])}` : "",
      say: `Treadle ${rows[i].treadle}: ${spoken(rows[i])}.`,
    }),
  };
}

// partsOf lists the parts to weave with their first line and first pick. Where the length
// is unknown, the draft's picks are woven once.
function partsOf(plan, draftPicks, wanted) {
  const known = plan.stretches.some((part) => part.picks > 0);
  const list = known ? plan.stretches : [{ item: 1, part: "cloth", picks: draftPicks, weave: "draft", from_draft_pick: 1, length_cm: 0, woven_cm: 0, tape_cm: 0 }];
  let line = 0;
  let pick = 1;
  return list.filter((part) => (part.picks > 0 || part.part === "fringe") && (!known || wanted(part))).map((part) => {
    if (part.picks > 0 && part.up_to_pick > 0) pick = part.up_to_pick - part.picks + 1;
    const made = { ...part, known, line, pick };
    line += part.picks ?? 1;
    pick += part.picks ?? 0;
    return made;
  });
}

function pickLines(plan, wanted) {
  const blocks = plan.lifts;
  if (blocks.length === 0) return { count: 0 };
  const size = (block) => block.to - block.from + 1;
  const starts = blocks.map((block) => block.from);
  const draftPicks = blocks.at(-1).from - 1 + size(blocks.at(-1)) * blocks.at(-1).times;
  const parts = partsOf(plan, draftPicks, wanted);
  if (parts.length === 0) return { count: 0 };
  const partLines = parts.map((part) => part.line);
  const picks = parts.at(-1).pick - 1 + (parts.at(-1).picks ?? 0);
  const count = parts.at(-1).line + (parts.at(-1).picks ?? 1) + 1; // and a line that all is woven
  const colors = colorsOf(plan.weft.by_color);
  const onlyColor = plan.weft.by_color.length === 1 ? plan.weft.by_color[0].color : undefined;
  const items = Math.max(...parts.map((part) => part.item));
  let shafts = Math.max(0, ...plan.heddles.map((row) => row.shaft));
  if (shafts > 64) shafts = 0; // too many for a row of marks

  const longest = longestOf(blocks.flatMap((block) => block.shafts ?? block.moved ?? []));

  const partAt = (i) => parts[lastBefore(partLines, i)];
  // liftAt returns what the pick of a line presses, moves and throws.
  const liftAt = (i) => {
    const part = partAt(i);
    if (!part.picks || i >= count - 1) return undefined;
    const n = i - part.line; // from 0
    const pick = ((part.from_draft_pick ?? 1) - 1 + n) % draftPicks + 1;
    const block = blocks[lastBefore(starts, pick)];
    const at = (pick - block.from) % size(block);
    const color = block.colors?.[at] ?? onlyColor;
    if (part.weave === "plain" && plan.plain_hem) {
      const treadle = plan.plain_hem.treadles[n % 2];
      return { shafts: plan.plain_hem.shafts[n % 2], treadles: treadle > 0 ? [treadle] : undefined, color };
    }
    return { shafts: block.shafts?.[at] ?? block.moved?.[at] ?? [], treadles: block.treadles?.[at], color };
  };
  const partName = (part) => (items > 1 && part.part !== "sample" ? `Item ${part.item}, ${part.part}` : part.part[0].toUpperCase() + part.part.slice(1));
  // changeAt returns the color that a pick changes to, in words, too; or undefined.
  const changeAt = (i) => {
    const lift = liftAt(i);
    if (colors.size < 2 || !lift) return undefined;
    let before = i - 1;
    while (before >= 0 && !liftAt(before)) before--; // no pick, but a fringe
    if (before >= 0 && liftAt(before).color === lift.color) return undefined;
    return { row: colors.get(lift.color), verb: before < 0 ? "Begin with" : "Change to" };
  };
  const short = (lift) => (lift.treadles ? `treadle ${numbersOr(lift.treadles, "none")} (${numbersOr(lift.shafts, "–")})` : numbersOr(lift.shafts, "–"));
  // nextWords names what follows a line.
  const nextWords = (i) => {
    if (i >= count) return "";
    if (i === count - 1) return "all is woven";
    const part = partAt(i);
    const begins = part.line === i ? partName(part) + ": " : "";
    const lift = liftAt(i);
    const color = changeAt(i);
    return begins + (color ? `${colorName(color.row)}, ` : "") + (lift ? short(lift) : `leave ${lengthOn(plan, part.length_cm)} unwoven`);
  };
  return {
    count, parts, partName, least: parts[0].pick, most: picks, unit: "Pick",
    isPick: (i) => liftAt(i) !== undefined,
    brief: (i) => [liftAt(i) ? `Pick ${partAt(i).pick + i - partAt(i).line}` : i < count - 1 ? "Fringe" : "", nextWords(i)],
    // find returns the line of a pick, counted over all parts.
    find: (pick) => { const part = parts.findLast((p) => p.picks > 0 && p.pick <= pick); return part ? part.line + pick - part.pick : 0; },
    reached: (i) => { const part = partAt(i); return i >= count - 1 ? picks : part.pick - 1 + (part.picks ? i - part.line : 0); },
    after(pick) { return pick >= picks ? count - 1 : this.find(pick + 1); },
    line: (i) => {
      if (i >= count - 1) return { label: "", text: `All ${counted(parts.reduce((sum, part) => sum + (part.picks ?? 0), 0), "pick")} are woven.`, say: "All is woven." };
      const part = partAt(i);
      const n = i - part.line;
      const tape = part.tape_cm - part.length_cm + (part.picks ? (part.length_cm * n) / part.picks : 0);
      const soFar = part.known ? `; ${lengthOn(plan, tape)} ${part.tape_cm === part.woven_cm ? "woven" : "on the tape"}` : "";
      const where = items > 1 && part.part !== "sample" ? `Item ${part.item} of ${items}, ${part.part}` : partName(part);
      const lift = liftAt(i);
      if (!lift) {
        const text = `Leave ${lengthOn(plan, part.length_cm)} unwoven for the fringe.`;
        return { label: "Fringe", text, where, next: nextWords(i + 1), say: text };
      }
      const color = changeAt(i);
      const begins = n === 0 ? partName(part) + ". " : "";
      const spoken = lift.treadles ? `${lift.treadles.length > 1 ? "treadles" : "treadle"} ${shaftWords(lift.treadles)}` : lift.shafts.join(", ") || "lift nothing";
      return {
        label: `Pick ${part.pick + n}`, numbers: lift.shafts.length > 0 ? lift.shafts : ["–"], longest, apart: 4, treadles: lift.treadles, marks: shafts > 0 ? { shafts, moved: lift.shafts } : undefined,
        where: `${where}; pick ${n + 1} of ${part.picks}${soFar}`, color, pickInPart: n + 1,
        more: [n === 0 || plan.shafts_go === "down" ? `These shafts go ${plan.shafts_go}.` : "", n === 0 && part.repeats_shed ? "The same shed as the pick before: catch the edge by hand." : ""],
        next: nextWords(i + 1), place: `${partName(part)}, pick ${n + 1}`, pick: part.pick + n,
        say: `${begins}${color ? `${color.verb} ${colorName(color.row)}. ` : ""}${spoken}.`,
      };
    },
  };
}
