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
// and examples as they are.
async function fillRulePage(rule, into) {
  const [, ...lines] = (await rulePage(rule)).trim().split("\n"); // the first line is the rule
  into.replaceChildren();
  for (const block of lines.join("\n").trim().split(/\n{2,}/)) {
    if (block.split("\n").every((line) => /^\s/.test(line))) into.append(element("pre", { textContent: block, tabIndex: 0 }));
    else into.append(element("p", { textContent: block.replaceAll("\n", " ") }));
  }
}
