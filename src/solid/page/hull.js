"use strict";
// Shows the hull that stands in this page as glTF. Nothing moves by itself: a picture is drawn when something changes.
(() => {
  const byId = (id) => document.getElementById(id);
  const canvas = document.querySelector("canvas");
  let renderer;
  try {
    renderer = new THREE.WebGLRenderer({ canvas, antialias: true, alpha: true, preserveDrawingBuffer: true });
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
  const boat = new THREE.Group();
  scene.add(boat);
  const looks = (head.materials || []).map((look) => {
    const source = head.images[head.textures[look.pbrMetallicRoughness.baseColorTexture.index].source];
    const picture = new Image();
    const texture = new THREE.Texture(picture);
    texture.colorSpace = THREE.SRGBColorSpace;
    texture.flipY = false;
    texture.anisotropy = renderer.capabilities.getMaxAnisotropy();
    picture.onload = () => { texture.needsUpdate = true; draw(); };
    let letters = "";
    for (const byte of part(source.bufferView)) letters += String.fromCharCode(byte);
    picture.src = `data:${source.mimeType};base64,${btoa(letters)}`;
    return new THREE.MeshStandardMaterial({ map: texture, roughness: 0.45 });
  });
  const pieces = [];
  for (const node of head.nodes || []) {
    if (node.mesh === undefined) continue;
    const { attributes, indices, material } = head.meshes[node.mesh].primitives[0];
    const shape = new THREE.BufferGeometry();
    shape.setAttribute("position", new THREE.BufferAttribute(numbers(attributes.POSITION), 3));
    shape.setAttribute("normal", new THREE.BufferAttribute(numbers(attributes.NORMAL), 3));
    shape.setAttribute("uv", new THREE.BufferAttribute(numbers(attributes.TEXCOORD_0), 2));
    shape.setIndex(new THREE.BufferAttribute(numbers(indices), 1));
    const mesh = new THREE.Mesh(shape, looks[material]);
    mesh.userData = node.extras;
    boat.add(mesh);
    pieces.push(mesh);
  }

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
  const zones = pieces.flatMap((piece) => (piece.userData.clear || []).map(([from, to]) => {
    const { position, normal } = piece.geometry.attributes;
    const index = piece.geometry.index.array;
    const corner = (i) => [position, normal].flatMap(({ array }) => [...array.subarray(3 * i, 3 * i + 3)]);
    const all = [];
    for (let n = 0; n < index.length; n += 3) {
      const kept = between([corner(index[n]), corner(index[n + 1]), corner(index[n + 2])], from, to);
      for (let k = 2; k < kept.length; k += 1) all.push(kept[0], kept[k - 1], kept[k]);
    }
    const shape = new THREE.BufferGeometry();
    const attribute = (first) => new THREE.BufferAttribute(
      new Float32Array(all.flatMap((one) => one.slice(first, first + 3))), 3);
    shape.setAttribute("position", attribute(0));
    shape.setAttribute("normal", attribute(3));
    const zone = new THREE.Mesh(shape, warning);
    zone.userData = { over: piece };
    boat.add(zone);
    return zone;
  }));

  const least = new THREE.Vector3(Infinity, Infinity, Infinity);
  const most = new THREE.Vector3(-Infinity, -Infinity, -Infinity);
  for (const piece of pieces) {
    piece.geometry.computeBoundingBox();
    least.min(piece.geometry.boundingBox.min);
    most.max(piece.geometry.boundingBox.max);
  }
  const middle = least.clone().add(most).multiplyScalar(0.5);
  const size = most.clone().sub(least).length() || 1;
  for (const piece of [...pieces, ...zones]) piece.position.sub(middle);

  const camera = new THREE.PerspectiveCamera(32, 1, size / 50, size * 20);
  const orbit = new THREE.OrbitControls(camera, canvas);
  orbit.enableDamping = false;
  orbit.minDistance = size / 20;
  orbit.maxDistance = size * 4;
  const sun = new THREE.DirectionalLight(0xfff4e2, 2.4);
  scene.add(sun, new THREE.HemisphereLight(0xe8eef5, 0x8a7a66, 1.1));

  let asked = false;
  function draw() {
    if (asked) return;
    asked = true;
    requestAnimationFrame(() => { asked = false; renderer.render(scene, camera); });
  }
  function fit() {
    const { clientWidth, clientHeight } = canvas;
    renderer.setPixelRatio(Math.min(devicePixelRatio, 2));
    renderer.setSize(clientWidth, clientHeight, false);
    camera.aspect = clientWidth / Math.max(clientHeight, 1);
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

  const form = byId("controls");
  const chosen = (name) => form.elements[name].value;
  const planked = byId("planked");
  function show() {
    const side = chosen("side");
    for (const piece of pieces) {
      const at = piece.userData;
      const here = side === "both" || at.side === side || at.side === "centre";
      const asked = !form.elements.show || chosen("show") === "all" || at.stage === "laid";
      piece.visible = here && asked && at.order <= Number(planked.value);
    }
    const clear = byId("clear");
    for (const zone of zones) zone.visible = clear.checked && zone.userData.over.visible;
    const last = pieces.find((piece) => piece.userData.order === Number(planked.value));
    byId("at").textContent = last ? `${planked.value}: ${last.userData.panel} course ${last.userData.course}, ${last.userData.side}` : "nothing yet";
    boat.rotation.x = chosen("keel") === "up" ? Math.PI : 0;
    for (const look of looks) look.roughness = chosen("wood") === "varnished" ? 0.28 : 0.95;
    const turn = (Number(byId("light").value) * Math.PI) / 180;
    const lift = (Number(byId("lift").value) * Math.PI) / 180;
    sun.position.set(-Math.sin(turn) * Math.cos(lift), Math.sin(lift), -Math.cos(turn) * Math.cos(lift)).multiplyScalar(size);
    draw();
  }
  form.addEventListener("input", (event) => {
    if (event.target.name === "side" || event.target.name === "keel") stand(chosen("side"));
    show();
  });

  const ray = new THREE.Raycaster();
  let held = null;
  function tell(piece) {
    if (held) { held.material.dispose(); held.material = looks[held.look]; }
    held = piece;
    if (piece) {
      piece.look = looks.indexOf(piece.material);
      piece.material = piece.material.clone();
      piece.material.emissive = new THREE.Color(0x2b4a6b);
    }
    byId("told").textContent = piece ? piece.userData.says : "Tap a piece to read what it is.";
    draw();
  }
  let down = null;
  canvas.addEventListener("pointerdown", (event) => { down = [event.clientX, event.clientY]; });
  canvas.addEventListener("pointerup", (event) => {
    // A drag turns the hull, and is no tap.
    if (!down || Math.hypot(event.clientX - down[0], event.clientY - down[1]) > 6) return;
    const box = canvas.getBoundingClientRect();
    const at = new THREE.Vector2(((event.clientX - box.x) / box.width) * 2 - 1, 1 - ((event.clientY - box.y) / box.height) * 2);
    ray.setFromCamera(at, camera);
    const hit = ray.intersectObjects(pieces.filter((piece) => piece.visible))[0];
    tell(hit ? hit.object : null);
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
