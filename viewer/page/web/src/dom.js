// Elements. Text is only ever set as text: a name from a scene cannot become markup.

const SVG = "http://www.w3.org/2000/svg";

/** An element with attributes, listeners (onclick: f) and children (text or elements). */
export function make(tag, attributes = {}, ...children) {
  return filled(document.createElement(tag), attributes, children);
}

/** The same for a drawing in the page. */
export function draw(tag, attributes = {}, ...children) {
  return filled(document.createElementNS(SVG, tag), attributes, children);
}

function filled(element, attributes, children) {
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on")) element.addEventListener(name.slice(2), value);
    else if (name.startsWith("aria-") && typeof value === "boolean") {
      element.setAttribute(name, String(value)); // said either way: "" would be neither
    } else if (value === true) element.setAttribute(name, "");
    else if (value !== false && value !== null && value !== undefined) {
      element.setAttribute(name, String(value));
    }
  }
  element.append(
    ...children.filter((child) => child !== null && child !== undefined && child !== false),
  );
  return element;
}

export function byId(id) {
  return document.getElementById(id);
}

export function prefersStill() {
  return matchMedia("(prefers-reduced-motion: reduce)").matches;
}
