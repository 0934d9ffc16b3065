// Shows how a piece is cut under the pointer, on a tap, and on the way through the picture by arrow keys. Without it every
// piece is a link to its row.
(() => {
  "use strict";
  const section = document.getElementById("picture");
  // Listened to around the picture: an SVG element that listens for focus becomes a stop of its own.
  const drawing = section.querySelector(".drawing");
  const svg = drawing.querySelector("svg");
  const card = document.getElementById("details");
  const pieces = [...svg.querySelectorAll("a.piece")];
  if (pieces.length === 0) return;

  // What the pointer is told natively moves to the card, so that it is not told twice.
  const told = new Map();
  for (const piece of pieces) {
    const title = piece.querySelector("title");
    told.set(piece, title.textContent.split("\n"));
    title.remove();
    piece.setAttribute("tabindex", "-1");
  }
  const place = (piece, side) => [piece.dataset.panel, piece.dataset.course, side, piece.dataset.piece].join("\n");
  const byPlace = new Map(pieces.map((piece) => [place(piece, piece.dataset.side), piece]));
  const mate = (piece) => byPlace.get(place(piece, { port: "starboard", starboard: "port" }[piece.dataset.side]));

  // Rows from the top, each from the bow aft, as they are drawn.
  const rows = [];
  for (const piece of pieces) {
    const row = [piece.dataset.panel, piece.dataset.course, piece.dataset.side].join("\n");
    if (rows.length === 0 || rows.at(-1).name !== row) rows.push({ name: row, pieces: [] });
    rows.at(-1).pieces.push(piece);
  }

  const shape = (kind, parent) => parent.appendChild(document.createElementNS("http://www.w3.org/2000/svg", kind));
  const ring = (kind) => {
    const group = shape("g", svg);
    group.setAttribute("class", "ring " + kind);
    group.setAttribute("aria-hidden", "true");
    for (const part of ["halo", "core"]) shape("polygon", group).setAttribute("class", part);
    return group;
  };
  const rings = { mate: ring("mate"), piece: ring("piece") };
  const round = (group, piece) => {
    group.style.display = piece ? "" : "none";
    if (!piece) return;
    for (const part of group.children) part.setAttribute("points", piece.querySelector("polygon").getAttribute("points"));
  };

  let here = pieces[0];
  let kept = null;
  here.setAttribute("tabindex", "0");

  const show = (piece) => {
    round(rings.piece, piece);
    round(rings.mate, piece && mate(piece));
    card.hidden = !piece;
    if (!piece) return;
    const [first, ...more] = told.get(piece);
    const head = document.createElement("strong");
    head.textContent = first;
    const lines = more.map((line) => {
      const p = document.createElement("p");
      p.textContent = line;
      return p;
    });
    const link = document.createElement("a");
    link.href = piece.getAttribute("href");
    link.textContent = "Its row in the order of laying";
    card.replaceChildren(head, ...lines, link);
  };
  const go = (piece) => {
    here.setAttribute("tabindex", "-1");
    here = piece;
    here.setAttribute("tabindex", "0");
    here.focus({ preventScroll: true });
    here.scrollIntoView({ block: "nearest", inline: "nearest" });
  };
  const hit = (event) => event.target.closest && event.target.closest("a.piece");

  drawing.addEventListener("pointerover", (event) => {
    if (event.pointerType !== "touch" && hit(event)) show(hit(event));
  });
  drawing.addEventListener("pointerleave", () => show(kept));
  drawing.addEventListener("focusin", (event) => {
    const piece = hit(event);
    if (!piece) return;
    here.setAttribute("tabindex", "-1");
    here = kept = piece;
    here.setAttribute("tabindex", "0");
    show(piece);
  });
  drawing.addEventListener("click", (event) => {
    const piece = hit(event);
    // Enter on a piece follows its link; a tap or a click keeps its details.
    if (!piece || event.detail === 0) return;
    event.preventDefault();
    kept = piece;
    show(piece);
    piece.focus({ preventScroll: true });
  });
  const middle = (piece) => {
    const box = piece.getBBox();
    return box.x + box.width / 2;
  };
  const nearest = (row, x) => {
    const off = (piece) => {
      const box = piece.getBBox();
      return Math.max(box.x - x, x - box.x - box.width, 0);
    };
    return row.pieces.reduce((best, piece) => (off(piece) < off(best) ? piece : best));
  };
  drawing.addEventListener("keydown", (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    if (event.key === "Escape") {
      kept = null;
      show(null);
      return;
    }
    const at = rows.findIndex((row) => row.pieces.includes(here));
    const row = rows[at].pieces;
    const along = row.indexOf(here);
    const beside = (n) => rows[n] && nearest(rows[n], middle(here));
    const to = {
      ArrowLeft: row[along - 1] || (rows[at - 1] && rows[at - 1].pieces.at(-1)),
      ArrowRight: row[along + 1] || (rows[at + 1] && rows[at + 1].pieces[0]),
      ArrowUp: beside(at - 1),
      ArrowDown: beside(at + 1),
      Home: row[0],
      End: row.at(-1),
    }[event.key];
    if (!(event.key.startsWith("Arrow") || event.key === "Home" || event.key === "End")) return;
    event.preventDefault();
    if (to) go(to);
  });

  for (const hint of section.querySelectorAll(".hint.scripted")) hint.hidden = false;
  drawing.classList.add("scripted");
  show(null);
})();
