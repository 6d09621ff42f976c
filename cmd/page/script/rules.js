// The pages of the rules, as the command rules prints them.

const rulePages = new Map(); // from a rule to a promise of its text

function rulePage(rule) {
  if (!rulePages.has(rule)) {
    const page = runProgram(["rules", rule], new Map(), "Looking the rule up").then(({ status, stdout, stderr }) => {
      if (status !== 0) throw new Error(toText(stderr).trim());
      return toText(stdout);
    });
    page.catch(() => rulePages.delete(rule));
    rulePages.set(rule, page);
  }
  return rulePages.get(rule);
}

// fillRulePage puts a rule's page into an element: paragraphs without their line breaks,
// and examples as they are. It leaves out what only programs need.
async function fillRulePage(rule, into) {
  const [, ...lines] = (await rulePage(rule)).trim().split("\n"); // the first line is the rule
  into.replaceChildren();
  for (const block of lines.join("\n").trim().split(/\n{2,}/)) {
    if (block.split("\n").every((line) => /^\s/.test(line))) into.append(element("pre", { textContent: block, tabIndex: 0 }));
    else if (!block.startsWith("Data: ")) into.append(element("p", {}, ...worded(block.replaceAll("\n", " "))));
  }
}
