// What the page tells of itself: for tests, and for the curious in a browser's console.

import { Vector3 } from "three";
import { byId } from "./dom.js";

export function faceOf(app) {
  return {
    get layers() {
      return app.stage.layers.map(({ id }) => ({ id, shown: !app.layers.hidden.has(id) }));
    },
    get rows() {
      return app.stage.judgements.map((row) => ({
        number: row.number,
        verdict: row.verdict,
        subject: row.subject,
        requirement: row.requirement,
      }));
    },
    get picked() {
      return { judgement: app.judgement, item: app.item };
    },
    get section() {
      return app.section.state;
    },
    get lesson() {
      return app.lesson && { step: app.lesson.step, answered: app.lesson.answered };
    },
    get score() {
      return app.lesson?.score ?? null;
    },
    get angles() {
      return Object.fromEntries(app.doors.angles);
    },
    get texts() {
      return app.marks?.shown ?? [];
    },
    get camera() {
      const { target, azimuth, elevation, span, angle, flight } = app.camera;
      return {
        target: target.toArray(),
        azimuth,
        elevation,
        span,
        angle,
        flying: Boolean(flight),
      };
    },
    /** Ids of the doors that are drawn faintly, for they stand before the room. */
    get faint() {
      const batches = [...(app.picture?.batches.values() ?? [])];
      return batches.filter((batch) => batch.faint).map((batch) => batch.first.item);
    },
    get cutFaces() {
      return app.picture?.cutting.children.filter((part) => part.isMesh).length ?? 0;
    },
    get live() {
      return app.live && { version: app.live.version, ...app.live.state };
    },
    get whatif() {
      const whatif = app.trial ?? app.whatif;
      if (!whatif) return null;
      const { state, answers, took } = whatif;
      const { solids } = whatif.judge;
      const moved = Object.fromEntries([...solids.moved].map((n) => [solids.ids[n], solids.ways[n]]));
      return { moved, places: state.places, answers: answers ?? [], took: took ?? 0 };
    },
    /** Whether what was moved last is judged and shown; it is with the next frame. */
    get settled() {
      return !(app.trial ?? app.whatif)?.isDue;
    },
    get motion() {
      const { slides, moving } = app.motion;
      return { slid: slides.map(({ item, by }) => [item, by.toArray()]), moving: Boolean(moving) };
    },
    get played() {
      return app.remedies.played;
    },
    get map() {
      return app.maps && { item: app.maps.item, map: app.maps.map };
    },
    get gauges() {
      return app.gauges.map(({ required, start, end }) => ({ required, start, end }));
    },
    get stats() {
      const { picture } = app;
      return {
        drawn: Boolean(picture),
        shapes: app.stage.shapes.size,
        batches: picture?.batches.size ?? 0,
        triangles: picture?.renderer.info.render.triangles ?? 0,
        frames: picture?.frames ?? 0,
        slow: picture?.isSlow ?? false,
        frameTime: picture?.frameTime ?? 0,
        firstFrame: app.firstFrame ?? null,
      };
    },
    pickItem: (id, flies) => app.pickItem(id, flies),
    /** The least and the greatest x, y, z of an item as it is shown. */
    bounds: (item) => app.boundsOf(item),
    isShown: (id) => app.picture.isShown(app.stage.shapes.get(id)),
    /** Where a world point is on the screen, in pixels of the window. */
    onScreen: (x, y, z) => {
      const seen = new Vector3(x, y, z).project(app.camera.eye);
      const box = byId("room").getBoundingClientRect();
      return [box.left + ((seen.x + 1) / 2) * box.width, box.top + ((1 - seen.y) / 2) * box.height];
    },
    shapes: () =>
      [...app.stage.shapes.values()].map(({ id, item, role, layer }) => ({
        id,
        item,
        role,
        layer,
      })),
  };
}
