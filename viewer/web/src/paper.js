// What is printed, and read where there is no picture: a still and all findings.

import { VERDICTS } from "./data.js";
import { make } from "./dom.js";

/** The findings as a table, every one with its reason and citation. */
export function findingTable(stage) {
  const heads = ["", "Item", "Requirement", "Required", "There is", "Why"];
  const rows = stage.findings.map((finding) =>
    make(
      "tr",
      { class: finding.verdict },
      make("td", { class: "verdict" }, finding.number ? `${finding.number} ` : "", VERDICTS[finding.verdict]),
      make("td", {}, finding.subject),
      make("td", {}, finding.part ? `${finding.title}, ${finding.part}` : finding.title),
      make("td", {}, ...sizes(finding, "required")),
      make("td", {}, ...sizes(finding, "provided")),
      make("td", {}, finding.reason, " ", make("cite", {}, finding.citation)),
    ),
  );
  return make(
    "table",
    { class: "all" },
    make("thead", {}, make("tr", {}, ...heads.map((head) => make("th", { scope: "col" }, head)))),
    make("tbody", {}, ...rows),
  );
}

function sizes(finding, which) {
  return finding.sizes
    .filter((size) => size[which])
    .map((size) => make("div", {}, `${size.name} ${size[which]}`));
}

/** The counts in words: "2 not met, 1 open, 14 met". */
export function countsOf(stage) {
  return Object.entries(VERDICTS).map(([verdict, words]) => {
    const count = stage.findings.filter((finding) => finding.verdict === verdict).length;
    return { verdict, words, count };
  });
}
