// Keeps what is told until it is on the disk, shows what others tell, and keeps the screen awake. Without it every
// screen is plain pages and forms.
(() => {
  "use strict";
  const main = document.getElementById("main");
  const away = document.getElementById("away");
  const waiting = document.getElementById("waiting");
  // For whoever can't see the screen: it stays, while what it tells of is shown anew.
  const spoken = document.getElementById("spoken");
  const EVERY = 1500;
  const PATIENCE = 8000;
  const MARK = "bench-entry-";

  const made = (kind, text, into) => {
    const one = document.createElement(kind);
    if (text) one.textContent = text;
    if (into) into.append(one);
    return one;
  };
  const asked = (address, more) =>
    fetch(address, { cache: "no-store", signal: AbortSignal.timeout(PATIENCE), ...more });

  // What was told and is not on the disk yet: an item of its own for each, so that two windows don't undo each other.
  const unkept = new Map();
  const kept = {
    all() {
      const names = Object.keys(localStorage).filter((name) => name.startsWith(MARK));
      const stored = names.map((name) => ({ name, ...JSON.parse(localStorage.getItem(name)) }));
      return [...stored, ...unkept.values()].sort((a, b) => a.at - b.at);
    },
    put(entry) {
      const { name, ...rest } = entry;
      try {
        localStorage.setItem(name, JSON.stringify(rest));
      } catch {
        // A browser that keeps nothing: as long as the page stays open it is here.
        unkept.set(name, entry);
      }
    },
    drop(name) {
      localStorage.removeItem(name);
      unkept.delete(name);
    },
    has: (key) => kept.all().some((entry) => entry.fields.key === key),
  };
  const sent = new Set();

  // The pieces that come next, for as long as the program can't be reached.
  let pieces = [];
  const keepAhead = async () => {
    const answer = await asked("/ahead");
    if (answer.ok) pieces = (await answer.json()).pieces;
  };
  const pending = () =>
    kept.all().filter((entry) => entry.fields.kind === "laid" && !entry.why).map((entry) => Number(entry.fields.order));
  const showPiece = (order) => {
    const piece = pieces.find((piece) => piece.order === order);
    const place = document.getElementById("piece");
    if (!piece || !place) return false;
    if (place.contains(document.activeElement)) main.focus({ preventScroll: true });
    place.innerHTML = piece.card;
    scrollTo(0, 0);
    return true;
  };
  const showNext = () => {
    const told = pending();
    const next = pieces.find((piece) => !told.includes(piece.order));
    if (next) showPiece(next.order);
  };

  // Whoever is writing is not disturbed, nor loses what he has written so far.
  const busy = () =>
    main.querySelector("form.sheet, textarea") !== null ||
    [...main.querySelectorAll("input:not([type=checkbox]), select")].some(
      (field) => field === document.activeElement || (field.tagName === "INPUT" && field.value !== field.defaultValue),
    );
  // The latest page asked for, until it is shown. What was asked for before it is not shown any more.
  let loading = null;
  const load = async (address) => {
    const own = {};
    loading = own;
    try {
      const answer = await asked(address);
      const text = await answer.text();
      const isPage = (answer.headers.get("content-type") || "").startsWith("text/html");
      if (isPage && loading === own) show(text);
    } finally {
      if (loading === own) loading = null;
    }
  };
  const show = (text) => {
    const page = new DOMParser().parseFromString(text, "text/html");
    const large = [...main.querySelectorAll("input:checked")].map((box) => box.id);
    const wasHere = main.contains(document.activeElement);
    main.replaceChildren(...page.getElementById("main").childNodes);
    for (const id of large) if (document.getElementById(id)) document.getElementById(id).checked = true;
    if (wasHere) main.focus({ preventScroll: true });
    if (page.body.dataset.stamp) document.body.dataset.stamp = page.body.dataset.stamp;
    lookOn();
    const told = pending();
    const here = main.querySelector("[data-order]");
    if (here && told.includes(Number(here.dataset.order))) showNext();
  };

  const tellAway = (text) => {
    away.hidden = !text;
    if (text && away.textContent !== text) away.textContent = text;
  };
  const NOT_THERE = "The program can't be reached. What you tell is kept on this telephone, and sent when it is back.";

  let shown = "";
  const showWaiting = () => {
    const all = kept.all();
    const now = JSON.stringify(all);
    if (now === shown) return;
    shown = now;
    waiting.hidden = all.length === 0;
    waiting.replaceChildren();
    const open = all.filter((entry) => !entry.why);
    if (open.length > 0) {
      made("p", `Not on the disk yet: ${open.length}`, waiting);
      const list = made("ol", "", waiting);
      for (const entry of open) made("li", entry.said, list);
    }
    for (const entry of all.filter((entry) => entry.why)) {
      const box = made("div", "", waiting);
      box.className = "kept";
      made("p", `Not written: ${entry.said}`, box).className = "what";
      made("p", entry.why, box);
      const again = made("button", "Send it again", box);
      again.addEventListener("click", () => {
        kept.put({ ...entry, why: undefined });
        showWaiting();
        send();
      });
      const gone = made("button", "Put it away", box);
      gone.addEventListener("click", () => {
        kept.drop(entry.name);
        showWaiting();
        load(location.href).catch(() => tellAway(NOT_THERE));
      });
    }
  };

  let sending = false;
  const send = async () => {
    if (sending) return;
    sending = true;
    let last = null;
    try {
      for (;;) {
        const entry = kept.all().find((entry) => !entry.why);
        if (!entry) break;
        const answer = await asked("/entry", {
          method: "POST",
          headers: { Accept: "application/json" },
          body: new URLSearchParams(entry.fields),
        });
        const isOurs = (answer.headers.get("content-type") || "").startsWith("application/json");
        if (answer.ok && isOurs) {
          const written = await answer.json();
          last = written.entry;
          spoken.textContent = `On the disk: ${written.said}`;
          sent.add(entry.fields.key);
          kept.drop(entry.name);
          tellAway("");
        } else if (isOurs && answer.status !== 503) {
          kept.put({ ...entry, why: (await answer.json()).why });
        } else {
          const text = isOurs ? (await answer.json()).why : await answer.text();
          tellAway(`${text} What you told is kept on this telephone.`);
          break;
        }
        showWaiting();
      }
    } catch {
      tellAway(NOT_THERE);
    }
    sending = false;
    showWaiting();
    if (last !== null) {
      await load(after(last)).catch(() => tellAway(NOT_THERE));
      await keepAhead().catch(() => {});
    }
  };
  // Where one is after an entry: on the screen of the day its words stand over the next piece.
  const after = (entry) => {
    const to = document.getElementById("piece") ? "/" : "/record";
    history.replaceState(null, "", to);
    return `${to}?entry=${entry}`;
  };

  const said = (form) => {
    const words = form.dataset.said || (form.querySelector("button") || form).textContent;
    return words.trim().replace(/\s+/g, " ");
  };
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (form.matches("form.look")) {
      event.preventDefault();
      dress(event.submitter.value);
      return;
    }
    if (form.matches("form[data-sheet]")) form.querySelector("textarea").value = asText(form);
    if (!form.matches("form[data-entry]")) return;
    event.preventDefault();
    const fields = Object.fromEntries(new FormData(form));
    if (event.submitter && event.submitter.name) fields[event.submitter.name] = event.submitter.value;
    if (kept.has(fields.key)) return;
    if (sent.has(fields.key)) {
      // What is shown is older than what was told: the piece may have come off again since.
      load(location.href).catch(() => tellAway(NOT_THERE));
      return;
    }
    const at = Date.now();
    kept.put({ name: `${MARK}${at}-${fields.key}`, at, fields, said: said(form) });
    showWaiting();
    if (fields.kind === "laid") showNext();
    send();
  });

  // A touch on the drawing of a strip writes the place into the field beside it, where it can be corrected.
  document.addEventListener("click", (event) => {
    const drawing = event.target.closest(".touch");
    const field = document.getElementById("at");
    if (!drawing || !field) return;
    const box = drawing.querySelector("svg").getBoundingClientRect();
    const { from, to, length } = drawing.dataset;
    const part = ((event.clientX - box.left) / box.width - from) / (to - from);
    const at = Math.min(Math.max(part, 0), 1) * length;
    field.value = length > 1000 ? at.toFixed(0) : at.toFixed(2);
    field.focus({ preventScroll: true });
  });

  // How far a search is, as long as its screen is open.
  let search = null;
  let drawn = 0;
  const lookOn = () => {
    const place = main.querySelector("[data-watch]");
    if (!place || search) return;
    search = new EventSource("/plan/events");
    search.addEventListener("message", async (event) => {
      const now = JSON.parse(event.data);
      const words = document.getElementById("so-far");
      if (!now.under_way || !words) {
        search.close();
        search = null;
        if (words) spoken.textContent = "The search has ended.";
        if (words) load("/plan").catch(() => tellAway(NOT_THERE));
        return;
      }
      words.textContent = now.said;
      if (now.picture && now.picture !== drawn) {
        drawn = now.picture;
        const answer = await asked("/plan/best").catch(() => null);
        const picture = document.getElementById("best");
        if (answer && answer.status === 200 && picture) {
          const large = picture.querySelector("input:checked");
          picture.innerHTML = await answer.text();
          if (large) picture.querySelector("input").checked = true;
        }
      }
    });
  };

  // A photograph, or a file that takes the place of another.
  const LONG = 110000;
  const sendFile = async (address, file, words) => {
    words.textContent = `Sending ${(file.size / 1e6).toFixed(1)} MB`;
    try {
      const more = { method: "POST", body: file, signal: AbortSignal.timeout(LONG) };
      return await asked(address, { ...more, headers: { Accept: "application/json" } });
    } catch {
      words.textContent = "It did not arrive. Is the program there, and the file not larger than 25 MB?";
      return null;
    }
  };
  document.addEventListener("change", async (event) => {
    const field = event.target;
    const file = field.files && field.files[0];
    if (!file) return;
    if (field.closest("[data-scan]")) {
      const words = document.getElementById("scanned");
      const answer = await sendFile("/scan", file, words);
      field.value = "";
      if (!answer) return;
      if (!(answer.headers.get("content-type") || "").startsWith("application/json")) {
        words.textContent = await answer.text();
        return;
      }
      const { to, why, list } = await answer.json();
      if (to) location.assign(to);
      words.textContent = why || "";
      if (list) words.insertAdjacentHTML("beforeend", list);
    }
    const place = field.closest("[data-upload]");
    if (place) {
      const words = document.getElementById("uploaded");
      const kind = file.name.split(".").at(-1).toLowerCase();
      const more = new URLSearchParams({ kind, digest: place.dataset.digest });
      const answer = await sendFile(`${place.dataset.upload}?${more}`, file, words);
      field.value = "";
      if (!answer) return;
      words.textContent = await answer.text();
      if (answer.ok) location.assign(`${location.pathname}?saved=yes`);
    }
  });

  // A sheet: fields become text when it is sent, and what is pasted spreads over them.
  const fieldsOf = (row) => [...row.querySelectorAll("input")];
  const rowsOf = (form) => [...form.querySelectorAll("table tr")];
  const addRows = (form, many) => {
    const rows = rowsOf(form);
    const last = rows.at(-1);
    for (let n = 1; n <= many; n += 1) {
      const row = last.cloneNode(true);
      const line = Number(last.querySelector("th").textContent) + n;
      row.querySelector("th").textContent = line;
      for (const field of fieldsOf(row)) {
        field.value = "";
        field.setAttribute("aria-label", field.getAttribute("aria-label").replace(/line \d+$/, `line ${line}`));
        field.removeAttribute("aria-invalid");
        field.removeAttribute("aria-describedby");
      }
      for (const care of row.querySelectorAll(".care")) care.remove();
      last.parentNode.append(row);
    }
  };
  document.addEventListener("click", (event) => {
    const more = event.target.closest("[data-more]");
    if (more) addRows(more.closest("form"), 10);
  });
  document.addEventListener("paste", (event) => {
    const field = event.target;
    const form = field.closest && field.closest("form.sheet");
    const text = event.clipboardData.getData("text").replace(/\r\n?/g, "\n").replace(/\n$/, "");
    if (!form || !/[\t\n]/.test(text)) return;
    event.preventDefault();
    const pasted = text.split("\n").map((line) => line.split("\t"));
    const from = rowsOf(form).indexOf(field.closest("tr"));
    const left = fieldsOf(field.closest("tr")).indexOf(field);
    const missing = from + pasted.length - rowsOf(form).length;
    if (missing > 0) addRows(form, missing);
    const rows = rowsOf(form);
    pasted.forEach((cells, down) => {
      const fields = fieldsOf(rows[from + down]);
      cells.forEach((cell, right) => {
        if (fields[left + right]) fields[left + right].value = cell.trim();
      });
    });
  });
  const asText = (form) => {
    const between = form.dataset.delimiter;
    const quoted = (text) =>
      text.includes(between) || text.includes("\n") || text.startsWith('"') ? `"${text.replaceAll('"', '""')}"` : text;
    const rows = rowsOf(form).map((row) => fieldsOf(row).map((field) => field.value.trim()));
    const isFilled = (row) => row.some((cell) => cell !== "");
    while (rows.length > 1 && !isFilled(rows.at(-1))) rows.pop();
    const wide = Math.max(...rows.map((row) => row.findLastIndex((cell) => cell !== "") + 1));
    return rows.map((row) => (isFilled(row) ? row.slice(0, wide).map(quoted).join(between) : "")).join("\n") + "\n";
  };

  const dress = (look) => {
    const root = document.documentElement;
    root.dataset.look = root.dataset.look === look ? "" : look;
    for (const button of document.querySelectorAll("form.look button"))
      button.setAttribute("aria-pressed", String(button.value === root.dataset.look));
    asked("/look", { method: "POST", body: new URLSearchParams({ look }), redirect: "manual" }).catch(() => {});
  };

  document.addEventListener("click", (event) => {
    const link = event.target.closest("a[data-go]");
    if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
    if (!showPiece(Number(link.dataset.go))) return;
    event.preventDefault();
    document.getElementById("said").replaceChildren();
    history.pushState(null, "", link.getAttribute("href"));
    main.focus({ preventScroll: true });
  });
  addEventListener("popstate", () => load(location.href).catch(() => tellAway(NOT_THERE)));

  let looking = false;
  const look = async () => {
    if (looking || document.hidden) return;
    looking = true;
    try {
      const answer = await asked("/stamp");
      const isOurs = (answer.headers.get("content-type") || "").startsWith("application/json");
      if (!isOurs) {
        tellAway(await answer.text());
      } else {
        tellAway("");
        const { stamp } = await answer.json();
        const before = document.body.dataset.stamp;
        if (before && stamp !== before && !busy() && !sending && !loading) {
          await load(location.href);
          await keepAhead();
        }
        await send();
      }
    } catch {
      tellAway(NOT_THERE);
    }
    looking = false;
  };
  setInterval(look, EVERY);

  // Only where the browser has it: most have it on the machine itself, and over https.
  const stayAwake = () => {
    if (navigator.wakeLock && !document.hidden) navigator.wakeLock.request("screen").catch(() => {});
  };
  document.addEventListener("visibilitychange", () => {
    stayAwake();
    look();
  });
  stayAwake();
  lookOn();
  showWaiting();
  keepAhead().catch(() => {});
  send();
})();
