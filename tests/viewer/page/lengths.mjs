// Writes lengths as the page does, for the tests: reads a JSON list of [tenths, unit].

import { readFileSync } from "node:fs";
import { lengthWords } from "../../../viewer/page/web/src/scene/lengths.js";

const asked = JSON.parse(readFileSync(0, "utf8"));
process.stdout.write(JSON.stringify(asked.map(([tenths, unit]) => lengthWords(tenths, unit))));
