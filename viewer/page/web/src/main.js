// The page: reads its data, builds its parts and lets them know of one another.

import { App } from "./app.js";
import { dataOf } from "./scene/data.js";
import { byId } from "./dom.js";
import { faceOf } from "./face.js";

window.standclear = faceOf(new App(dataOf(byId("data").textContent)));
