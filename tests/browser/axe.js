// Violations of any impact, of the rules with some tags; so many rules at the least must have found something to look at.
async (tags, least) => {
  const options = { runOnly: tags, resultTypes: ["violations"] };
  const { passes, violations } = await axe.run(document, options);
  if (passes.length < least) throw new Error(`only ${passes.length} rules were looked at`);
  return violations.map((rule) => {
    const places = rule.nodes.slice(0, 3).map((node) => `${node.target.join(" ")}: ${node.failureSummary.replace(/\s+/g, " ")}`);
    return `${rule.id} (${rule.impact}), ${rule.nodes.length} times: ${places.join(" | ")}`;
  });
}
