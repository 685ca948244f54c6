// The page: reads its data, builds its parts and lets them know of one another.

import { App } from "./app.js";
import { byId } from "./dom.js";
import { faceOf } from "./face.js";

const data = JSON.parse(byId("data").textContent);
window.standclear = faceOf(new App(data));
