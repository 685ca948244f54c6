// The page: reads its data, builds its parts and lets them know of one another.

import { App } from "./app.js";
import { dataOf, unzipped } from "./scene/data.js";
import { byId } from "./dom.js";
import { faceOf } from "./face.js";

const begin = (text) => {
  window.standclear = faceOf(new App(dataOf(text)));
};

const { type, textContent } = byId("data");
if (type === "application/gzip") unzipped(textContent).then(begin);
else begin(textContent);
