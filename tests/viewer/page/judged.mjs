// Judges rooms as the page does, for the tests: reads lines {record, tries: [[id, way]]}
// and writes a line for each: the findings and the clashes of every try alone.

import { createInterface } from "node:readline";
import { Judge } from "../../../viewer/page/web/src/judge.js";

for await (const line of createInterface({ input: process.stdin })) {
  const { record, tries, repeat = 1 } = JSON.parse(line);
  const start = performance.now();
  let found = [];
  for (let n = 0; n < repeat; n++) {
    const judge = new Judge(record);
    found = tries.map(([id, way]) => {
      judge.put(id, way);
      const told = { findings: judge.findings(), clashes: judge.clashes() };
      judge.put(id, [0, 0, 0]);
      return told;
    });
  }
  const each = (performance.now() - start) / repeat / Math.max(tries.length, 1);
  process.stdout.write(`${JSON.stringify({ found, each })}\n`);
}
