"use strict";
// Shows the hull that stands in this page as glTF. Nothing moves by itself: a picture is drawn when something changes.
(() => {
  const byId = (id) => document.getElementById(id);
  const canvas = document.querySelector("canvas");
  // Where no graphics card draws, edges are left jagged: a picture then takes a third of the time.
  const probe = document.createElement("canvas").getContext("webgl2");
  const info = probe?.getExtension("WEBGL_debug_renderer_info");
  const drawnBy = info ? probe.getParameter(info.UNMASKED_RENDERER_WEBGL) : "";
  const card = !/swiftshader|llvmpipe|software|basic render/i.test(drawnBy);
  let renderer;
  try {
    renderer = new THREE.WebGLRenderer({
      canvas, antialias: card, alpha: true, preserveDrawingBuffer: true,
    });
  } catch {
    byId("why").textContent = "This browser can't draw in three dimensions (WebGL is missing), so the hull lies flat.";
    return;
  }
  byId("flat").hidden = true;
  byId("hull").hidden = false;

  // The file: a head in JSON, then the numbers.
  const text = atob(byId("glb").textContent);
  const bytes = Uint8Array.from(text, (letter) => letter.charCodeAt(0));
  const view = new DataView(bytes.buffer);
  const long = view.getUint32(12, true);
  const head = JSON.parse(new TextDecoder().decode(bytes.subarray(20, 20 + long)));
  const start = 28 + long;
  const part = (number) => {
    const { byteOffset = 0, byteLength } = head.bufferViews[number];
    return bytes.slice(start + byteOffset, start + byteOffset + byteLength);
  };
  const numbers = (number) => {
    const { bufferView, componentType } = head.accessors[number];
    const { buffer } = part(bufferView);
    return componentType === 5126 ? new Float32Array(buffer) : new Uint32Array(buffer);
  };

  const scene = new THREE.Scene();
  const looks = (head.materials || []).map(({ pbrMetallicRoughness: look, doubleSided }) => {
    const side = doubleSided ? THREE.DoubleSide : THREE.FrontSide;
    if (!look.baseColorTexture) {
      const color = new THREE.Color(...look.baseColorFactor.slice(0, 3));
      // Lines lie on the skin, and are not to drown in it.
      const under = { polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 };
      return new THREE.MeshStandardMaterial({ color, side, roughness: look.roughnessFactor, ...under });
    }
    const source = head.images[head.textures[look.baseColorTexture.index].source];
    const picture = new Image();
    const texture = new THREE.Texture(picture);
    texture.colorSpace = THREE.SRGBColorSpace;
    texture.flipY = false;
    texture.anisotropy = Math.min(renderer.capabilities.getMaxAnisotropy(), card ? 16 : 4);
    picture.onload = () => { texture.needsUpdate = true; draw(); };
    let letters = "";
    for (const byte of part(source.bufferView)) letters += String.fromCharCode(byte);
    picture.src = `data:${source.mimeType};base64,${btoa(letters)}`;
    return new THREE.MeshStandardMaterial({ map: texture, side, roughness: 0.45 });
  });
  // Plans that are compared share most of their numbers.
  const shared = new Map();
  const attribute = (number, size) => {
    if (!shared.has(number)) shared.set(number, new THREE.BufferAttribute(numbers(number), size));
    return shared.get(number);
  };
  const pen = new Map();
  const made = ({ attributes, indices, material, mode }) => {
    const shape = new THREE.BufferGeometry();
    shape.setAttribute("position", attribute(attributes.POSITION, 3));
    if (mode === 3) {
      if (!pen.has(material)) pen.set(material, new THREE.LineBasicMaterial({ color: looks[material].color }));
      return new THREE.Line(shape, pen.get(material));
    }
    shape.setAttribute("normal", attribute(attributes.NORMAL, 3));
    if (attributes.TEXCOORD_0 !== undefined) shape.setAttribute("uv", attribute(attributes.TEXCOORD_0, 2));
    shape.setIndex(attribute(indices, 1));
    return new THREE.Mesh(shape, looks[material]);
  };
  const boats = head.scenes.map(({ nodes = [] }) => {
    const boat = new THREE.Group();
    const put = (number) => {
      const { mesh, extras, children = [] } = head.nodes[number];
      if (mesh !== undefined) {
        const thing = made(head.meshes[mesh].primitives[0]);
        thing.userData = extras;
        boat.add(thing);
      }
      children.forEach(put);
    };
    nodes.forEach(put);
    scene.add(boat);
    return boat;
  });
  const pieces = boats.flatMap((boat) => boat.children);

  // What lies between two places along the boat, cut out of a triangle: its corners, and those on the two cuts.
  const between = (corners, from, to) => [[from, 1], [to, -1]].reduce((kept, [at, sign]) => kept.flatMap((one, n) => {
    const other = kept[(n + 1) % kept.length];
    const [a, b] = [sign * (one[0] - at), sign * (other[0] - at)];
    const cut = one.map((value, k) => value + ((other[k] - value) * a) / (a - b));
    return [...(a >= 0 ? [one] : []), ...(a * b < 0 ? [cut] : [])];
  }), corners);
  const warning = new THREE.MeshStandardMaterial({
    color: 0xc22a1e, roughness: 0.9, transparent: true, opacity: 0.55, side: THREE.DoubleSide,
    polygonOffset: true, polygonOffsetFactor: -1, polygonOffsetUnits: -1,
  });
  const zones = [];
  const zone = (piece, [from, to]) => {
    const { position, normal } = piece.geometry.attributes;
    const index = piece.geometry.index.array;
    const corner = (i) => [position, normal].flatMap(({ array }) => [...array.subarray(3 * i, 3 * i + 3)]);
    const all = [];
    for (let n = 0; n < index.length; n += 3) {
      const kept = between([corner(index[n]), corner(index[n + 1]), corner(index[n + 2])], from, to);
      for (let k = 2; k < kept.length; k += 1) all.push(kept[0], kept[k - 1], kept[k]);
    }
    const shape = new THREE.BufferGeometry();
    const values = (first) => new THREE.BufferAttribute(
      new Float32Array(all.flatMap((one) => one.slice(first, first + 3))), 3);
    shape.setAttribute("position", values(0));
    shape.setAttribute("normal", values(3));
    const over = new THREE.Mesh(shape, warning);
    over.userData = { over: piece };
    over.position.copy(piece.position);
    piece.parent.add(over);
    zones.push(over);
  };

  const least = new THREE.Vector3(Infinity, Infinity, Infinity);
  const most = new THREE.Vector3(-Infinity, -Infinity, -Infinity);
  for (const piece of boats[0].children) {
    piece.geometry.computeBoundingBox();
    least.min(piece.geometry.boundingBox.min);
    most.max(piece.geometry.boundingBox.max);
  }
  const middle = least.clone().add(most).multiplyScalar(0.5);
  const size = most.clone().sub(least).length() || 1;
  for (const piece of pieces) piece.position.sub(middle);

  const camera = new THREE.PerspectiveCamera(32, 1, size / 50, size * 20);
  const orbit = new THREE.OrbitControls(camera, canvas);
  orbit.enableDamping = false;
  orbit.minDistance = size / 20;
  orbit.maxDistance = size * 4;
  const sun = new THREE.DirectionalLight(0xfff4e2, 2.4);
  scene.add(sun, new THREE.HemisphereLight(0xe8eef5, 0x8a7a66, 1.1));

  const form = byId("controls");
  const chosen = (name) => form.elements[name]?.value;
  const is = (id) => byId(id)?.checked;
  // The other plan, and how the two share the picture.
  const other = () => (chosen("other") ? boats[Number(chosen("other"))] : null);
  const isBeside = () => other() && chosen("how") === "beside";
  // Each boat that is shown: where its view lies, and which part of the picture is its own.
  function views() {
    const { clientWidth: wide } = canvas;
    if (!other()) return [{ boat: boats[0], view: [0, wide], own: [0, wide] }];
    const cut = Math.round(isBeside() ? wide / 2 : (wide * Number(byId("split").value)) / 100);
    const own = [[0, cut], [cut, wide - cut]];
    return [boats[0], other()].map((boat, n) => ({ boat, view: isBeside() ? own[n] : [0, wide], own: own[n] }));
  }

  let asked = false;
  function draw() {
    if (asked) return;
    asked = true;
    requestAnimationFrame(() => {
      asked = false;
      const high = canvas.clientHeight;
      renderer.setScissorTest(true);
      for (const { boat, view, own } of views()) {
        if (own[1] <= 0) continue;
        for (const one of boats) one.visible = one === boat;
        renderer.setViewport(view[0], 0, view[1], high);
        renderer.setScissor(own[0], 0, own[1], high);
        renderer.render(scene, camera);
      }
    });
  }
  function fit() {
    const { clientWidth, clientHeight } = canvas;
    renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    renderer.setSize(clientWidth, clientHeight, false);
    camera.aspect = clientWidth / (isBeside() ? 2 : 1) / Math.max(clientHeight, 1);
    camera.updateProjectionMatrix();
    draw();
  }
  function stand(side) {
    // So far away that all of its length is in the picture.
    const half = Math.tan((camera.fov * Math.PI) / 360) * Math.min(camera.aspect, 2.4);
    const away = (0.62 * size) / half;
    // Keel down, port is toward +z; turned over, toward -z.
    const port = chosen("keel") === "up" ? -1 : 1;
    const from = (side === "starboard" ? -1 : 1) * port;
    const [ahead, above] = side === "both" ? [0.35, 0.42] : [0, 0.25];
    camera.position.set(-ahead, above, from).normalize().multiplyScalar(away);
    orbit.target.set(0, 0, 0);
    orbit.update();
    draw();
  }

  const planked = byId("planked");
  function show() {
    const side = chosen("side");
    const most = planked ? Number(planked.value) : Infinity;
    for (const piece of pieces) {
      const at = piece.userData;
      const here = side === "both" || at.side === side || at.side === "centre";
      const wanted = chosen("show") !== "laid" || at.stage === "laid";
      // What is not counted is no wood: the skin, and the lines on it.
      const counted = at.order === undefined || at.order <= most;
      piece.visible = here && wanted && counted && (at.kind !== "skin" || is("skin"));
    }
    if (is("clear") && !zones.length) {
      for (const piece of pieces) for (const ends of piece.userData.clear) zone(piece, ends);
    }
    for (const one of zones) one.visible = is("clear") && one.userData.over.visible;
    if (planked) {
      // Of several plans one may have more pieces than the others.
      const laid = boats[0].children.map((piece) => piece.userData).filter(({ order }) => order <= most);
      const last = laid.find(({ order }) => order === laid.length);
      byId("at").textContent = last ? `${last.order}: ${last.panel} course ${last.course}, ${last.side}` : "nothing yet";
    }
    for (const boat of boats) boat.rotation.x = chosen("keel") === "up" ? Math.PI : 0;
    if (chosen("wood")) for (const look of looks) look.roughness = chosen("wood") === "varnished" ? 0.28 : 0.95;
    const turn = (Number(byId("light").value) * Math.PI) / 180;
    const lift = (Number(byId("lift").value) * Math.PI) / 180;
    sun.position.set(-Math.sin(turn) * Math.cos(lift), Math.sin(lift), -Math.cos(turn) * Math.cos(lift)).multiplyScalar(size);
    compare();
    draw();
  }
  function compare() {
    const which = byId("which");
    which.hidden = !other();
    if (byId("over")) byId("over").hidden = !other() || isBeside();
    if (!other()) return;
    const [left, right] = which.children;
    left.textContent = `Left: ${head.scenes[0].name}`;
    right.textContent = `Right: ${head.scenes[Number(chosen("other"))].name}`;
  }
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", ({ target }) => {
    if (target.name === "how" || target.id === "other") { fit(); stand(chosen("side")); }
    if (target.name === "side" || target.name === "keel") stand(chosen("side"));
    show();
  });

  const ray = new THREE.Raycaster();
  ray.params.Line.threshold = size / 250;
  let held = null;
  function tell(piece) {
    if (held) { held.material.dispose(); held.material = held.look; }
    held = piece;
    if (piece) {
      piece.look = piece.material;
      piece.material = piece.material.clone();
      (piece.material.emissive || piece.material.color).set(0x2b4a6b);
    }
    byId("told").textContent = piece ? piece.userData.says : byId("told").dataset.tap;
    draw();
  }
  let down = null;
  canvas.addEventListener("pointerdown", (event) => { down = [event.clientX, event.clientY]; });
  canvas.addEventListener("pointerup", (event) => {
    // A drag turns the hull, and is no tap.
    if (!down || Math.hypot(event.clientX - down[0], event.clientY - down[1]) > 6) return;
    const box = canvas.getBoundingClientRect();
    const x = event.clientX - box.x;
    const { boat, view } = views().find(({ own }) => own[0] <= x && x < own[0] + own[1]) || views()[0];
    const at = new THREE.Vector2(((x - view[0]) / view[1]) * 2 - 1, 1 - ((event.clientY - box.y) / box.height) * 2);
    ray.setFromCamera(at, camera);
    const hits = ray.intersectObjects(boat.children.filter((piece) => piece.visible && piece.userData.says));
    // Of the skin and a line on it the line is meant.
    const line = hits.find((hit) => hit.object.isLine && hit.distance < hits[0].distance + size / 100);
    tell((line || hits[0])?.object || null);
  });
  canvas.addEventListener("keydown", (event) => {
    const away = camera.position.clone().sub(orbit.target);
    const up = new THREE.Vector3(0, 1, 0);
    const level = new THREE.Vector3().crossVectors(up, away).normalize();
    const step = Math.PI / 24;
    const turns = { ArrowLeft: [up, -step], ArrowRight: [up, step], ArrowUp: [level, -step], ArrowDown: [level, step] };
    const nearer = { "+": 0.85, "=": 0.85, "-": 1 / 0.85 };
    if (turns[event.key]) {
      const turned = away.clone().applyAxisAngle(...turns[event.key]);
      // Over the top left and right would change places.
      if (Math.abs(turned.y) < 0.98 * turned.length()) away.copy(turned);
    } else if (nearer[event.key]) away.multiplyScalar(nearer[event.key]);
    else return;
    event.preventDefault();
    camera.position.copy(orbit.target).add(away);
    orbit.update();
    draw();
  });
  orbit.addEventListener("change", draw);
  addEventListener("resize", fit);
  fit();
  stand("both");
  show();
})();
