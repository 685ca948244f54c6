// Builds viewer.js, the one script of the page, from src and the packages of the lock file:
//
//   npm ci && npm run build
//
// "npm run check" only says whether viewer.js is what the source gives, by exit status 1.

import { readFileSync, writeFileSync } from "node:fs";
import { build } from "esbuild";

const OUT = new URL("viewer.js", import.meta.url);
const notice = readFileSync(new URL("node_modules/three/LICENSE", import.meta.url), "utf8");

const { outputFiles } = await build({
  absWorkingDir: import.meta.dirname,
  entryPoints: ["src/main.js"],
  bundle: true,
  minify: true,
  format: "iife",
  target: ["chrome111", "firefox113", "safari16.4"],
  charset: "ascii",
  legalComments: "none",
  banner: {
    js: `/* standclear, MIT. Built from viewer/page/web/src; contains three.js:\n\n${notice.trim()}\n*/`,
  },
  write: false,
});
const built = outputFiles[0].text;

if (process.argv.includes("--check")) {
  const kept = readFileSync(OUT, "utf8").replaceAll("\r\n", "\n");
  if (kept !== built) {
    console.error("viewer.js is stale: npm run build");
    process.exit(1);
  }
} else {
  writeFileSync(OUT, built);
  console.log(`viewer.js: ${Math.round(built.length / 1024)} KiB`);
}
