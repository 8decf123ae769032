// Violations of any impact. Every rule is on but the ones that are marked experimental, as axe-core has it by default.
async () => {
  const options = { runOnly: ["wcag2a", "wcag2aa", "wcag2aaa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"], resultTypes: ["violations"] };
  const { passes, violations } = await axe.run(document, options);
  if (passes.length < 10) throw new Error(`only ${passes.length} rules were looked at`);
  return violations.map((rule) => {
    const places = rule.nodes.slice(0, 3).map((node) => `${node.target.join(" ")}: ${node.failureSummary.replace(/\s+/g, " ")}`);
    return `${rule.id} (${rule.impact}), ${rule.nodes.length} times: ${places.join(" | ")}`;
  });
}
