// Judges rooms as the page does, for the tests: reads lines {record, tries} and writes a
// line for each: the answers, the clashes and what is left unjudged of every try alone. A
// try is a list of moves [id, way], one after the other.

import { createInterface } from "node:readline";
import { Judge } from "../../../viewer/page/web/src/judge/judge.js";

for await (const line of createInterface({ input: process.stdin })) {
  const { record, tries, repeat = 1 } = JSON.parse(line);
  let found = [];
  // The quickest of the repeats: others share the machine.
  let each = Infinity;
  for (let n = 0; n < repeat; n++) {
    const judge = new Judge(record);
    const start = performance.now();
    found = tries.map((moves) => {
      for (const [id, way] of moves) judge.put(id, way);
      const told = {
        answers: judge.answers(),
        clashes: judge.clashes(),
        unjudged: judge.unjudged(),
      };
      for (const [id] of moves) judge.put(id, [0, 0, 0]);
      return told;
    });
    each = Math.min(each, (performance.now() - start) / Math.max(tries.length, 1));
  }
  process.stdout.write(`${JSON.stringify({ found, each })}\n`);
}
