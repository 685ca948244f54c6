// The page: reads its data, builds its parts and lets them know of one another.

import { App } from "./app.js";
import { byId } from "./dom.js";

const data = JSON.parse(byId("data").textContent);
window.app = new App(data); window.standclear = window.app.face();
