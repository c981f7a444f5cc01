"use strict";
(() => {
  const $ = (selector, within = document) => within.querySelector(selector);
  const all = (selector, within = document) => [...within.querySelectorAll(selector)];
  const job = JSON.parse($("#job").textContent);
  const W = job.words;
  const GAS_CONSTANT = 8.314462618e-3; // kJ/(mol K), as in `advisor compute working_time_min`
  const KELVIN = 273.15;
  const storeName = "job-sheet:" + job.key;
  document.documentElement.classList.add("live");

  // -- what is kept, on this device only
  let keeps = true;
  const fresh = () => ({ ticks: {}, fields: {}, clocks: {}, temperatures: {} });
  let state = fresh();
  try {
    const found = JSON.parse(localStorage.getItem(storeName) || "null");
    if (found && typeof found === "object") {
      for (const name of Object.keys(state)) {
        if (found[name] && typeof found[name] === "object") state[name] = found[name];
      }
    }
  } catch { keeps = false; }
  const keep = () => {
    try { localStorage.setItem(storeName, JSON.stringify(state)); } catch { keeps = false; }
    const told = $("#kept");
    if (told) told.textContent = keeps ? W.kept : W.not_kept;
  };
  const now = () => new Date().toISOString();
  const twoDigits = (n) => String(n).padStart(2, "0");

  // -- boxes and blanks
  const showTick = (box) => {
    const step = box.closest(".step");
    if (step && box.closest(".tick")) step.classList.toggle("done", box.checked);
  };
  for (const box of all("input[type=checkbox][data-key]")) {
    box.checked = box.dataset.key in state.ticks;
    showTick(box);
    box.addEventListener("change", () => {
      if (box.checked) state.ticks[box.dataset.key] = now(); else delete state.ticks[box.dataset.key];
      showTick(box);
      keep();
    });
  }
  for (const field of all("[data-key]:not([type=checkbox])")) {
    field.value = typeof state.fields[field.dataset.key] === "string" ? state.fields[field.dataset.key] : "";
    field.addEventListener("input", () => {
      if (field.value) state.fields[field.dataset.key] = field.value; else delete state.fields[field.dataset.key];
      keep();
    });
  }

  // -- the day by the clock, from the hour that is set
  const dayStart = $("[data-key=day-start]");
  const ticks = all("[data-clock-min]").map((text) => [text, text.textContent, Number(text.dataset.clockMin)]);
  const showDay = () => {
    const [hours, minutes] = dayStart.value.split(":").map(Number);
    for (const [text, fromStart, after] of ticks) {
      const at = hours * 60 + minutes + after, days = Math.floor(at / 1440);
      text.textContent = Number.isNaN(at) ? fromStart
        : `${twoDigits(Math.floor(at / 60) % 24)}:${twoDigits(at % 60)}${days ? "+" + days : ""}`;
    }
  };
  if (dayStart) { dayStart.addEventListener("input", showDay); showDay(); }

  // -- working time at another temperature
  const workingTime = (time, p, celsius) =>
    time * Math.exp(p.activation_energy_kJ_mol / GAS_CONSTANT
      * (1 / (celsius + KELVIN) - 1 / (p.reference_temperature_C + KELVIN)));
  const temperatureOf = (id) => {
    const set = state.temperatures[id];
    return typeof set === "number" ? set : job.times[id].reference_temperature_C;
  };
  const shortening = (id) => id in job.times ? Math.min(1, workingTime(1, job.times[id], temperatureOf(id))) : 1;
  const shown = (minutes) => minutes < 5 ? minutes.toFixed(1) + " min"
    : minutes < 180 ? Math.round(minutes) + " min" : (minutes / 60).toFixed(1) + " h";
  const degrees = (c) => `${+c.toFixed(1)} °C (${+(c * 9 / 5 + 32).toFixed(1)} °F)`;
  for (const card of all("[data-time]")) {
    const id = card.dataset.time, p = job.times[id], slider = $("input[type=range]", card);
    const reckoned = $(".reckoned", card), said = $(".advice", card), code = $("code", card);
    const show = () => {
      const celsius = temperatureOf(id);
      const [low, likely, high] = [p.low, p.likely, p.high].map((time) => workingTime(time, p, celsius));
      reckoned.dataset.low = low; reckoned.dataset.likely = likely; reckoned.dataset.high = high;
      const span = shown(low) === shown(high) ? "" : ` (${shown(low)} – ${shown(high)})`;
      reckoned.textContent = `${degrees(celsius)}: ${W.lasts_about} ${shown(likely)}${span}`;
      slider.setAttribute("aria-valuetext", reckoned.textContent);
      const apart = celsius - p.reference_temperature_C;
      said.textContent = Math.abs(apart) < 0.5 ? "" : apart > 0 ? p.warmer : p.colder;
      code.textContent = code.textContent.replace(/ temperature_C=\S+/, ` temperature_C=${celsius}`);
    };
    if (typeof state.temperatures[id] === "number") slider.value = state.temperatures[id];
    slider.addEventListener("input", () => { state.temperatures[id] = Number(slider.value); show(); keep(); });
    show();
  }

  // -- sound, and a screen that stays on
  let audio = null, lock = null;
  const sound = (times) => {
    try {
      audio = audio || new AudioContext();
      audio.resume();
      for (let n = 0; n < times; n++) {
        const tone = audio.createOscillator(), loud = audio.createGain(), at = audio.currentTime + n * 0.4;
        tone.frequency.value = 880;
        loud.gain.setValueAtTime(0.3, at);
        loud.gain.exponentialRampToValueAtTime(0.001, at + 0.3);
        tone.connect(loud).connect(audio.destination);
        tone.start(at);
        tone.stop(at + 0.3);
      }
    } catch { /* a browser without sound still shows the clock */ }
    if (navigator.vibrate) navigator.vibrate([300, 150, 300]);
  };
  const stayOn = async () => {
    const wanted = Object.keys(state.clocks).length > 0;
    try {
      if (wanted && !lock && navigator.wakeLock && document.visibilityState === "visible") {
        lock = await navigator.wakeLock.request("screen");
        lock.addEventListener("release", () => { lock = null; });
      } else if (!wanted && lock) { await lock.release(); }
    } catch { lock = null; }
  };
  document.addEventListener("visibilitychange", stayOn);

  // -- clocks: each counts to its marks from a start that is kept, so that a reload loses nothing
  const running = $("#running"), spoken = $("#said");
  const clocks = Object.fromEntries(all("[data-clock]").map((place) => [place.dataset.clock, place]));
  const countdown = (seconds) => {
    const s = Math.max(0, Math.ceil(seconds)), h = Math.floor(s / 3600);
    return (h ? h + ":" + twoDigits(Math.floor(s / 60) % 60) : String(Math.floor(s / 60))) + ":" + twoDigits(s % 60);
  };
  const dayTime = (ms) => new Date(ms).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" });
  const start = (id) => {
    const spec = job.clocks[id];
    let marks = spec.marks;
    if (!marks.length) {
      const minutes = Number($(".minutes", clocks[id]).value.replace(",", "."));
      if (!(minutes > 0) || minutes > 20000) { $(".minutes", clocks[id]).focus(); return; }
      marks = [[W.now, minutes]];
    }
    const share = shortening(spec.follows);
    state.clocks[id] = { started: Date.now(), marks: marks.map(([name, m]) => [name, m * share]), told: 0 };
    const mixedAt = $(`[data-key="${id}-at"]`);
    if (mixedAt && !mixedAt.value) {
      mixedAt.value = dayTime(Date.now());
      state.fields[mixedAt.dataset.key] = mixedAt.value;
    }
    sound(1);
    keep();
    tick();
    stayOn();
  };
  const stop = (id) => { delete state.clocks[id]; keep(); tick(); stayOn(); };
  for (const [id, place] of Object.entries(clocks)) {
    $(".start", place).addEventListener("click", () => id in state.clocks ? stop(id) : start(id));
  }
  const tick = () => {
    const rows = [];
    for (const [id, place] of Object.entries(clocks)) {
      const clock = state.clocks[id], button = $(".start", place), output = $("output", place);
      const text = clock ? W.stop : id.startsWith("batch-") ? W.start_batch : W.start;
      if (button.textContent !== text) button.textContent = text;
      button.classList.toggle("stop", Boolean(clock));
      if (!clock) { output.textContent = ""; output.className = ""; continue; }
      const passed = (Date.now() - clock.started) / 60000;
      const due = clock.marks.filter(([, minutes]) => minutes <= passed).length;
      const next = clock.marks[due];
      const last = clock.marks[clock.marks.length - 1];
      const says = next ? `${next[0]} ${countdown((next[1] - passed) * 60)} (${dayTime(clock.started + next[1] * 60000)})`
        : `${last[0].toUpperCase()} +${countdown((passed - last[1]) * 60)}`;
      output.textContent = says;
      output.className = next ? "" : "over";
      if (due > clock.told) {
        spoken.textContent = `${job.clocks[id].name}: ${clock.marks[due - 1][0]}`;
        sound(due === clock.marks.length ? 5 : 2);
        clock.told = due;
        keep();
      }
      rows.push([next ? next[1] - passed : last[1] - passed, id, `${job.clocks[id].name}`, says, !next]);
    }
    rows.sort((a, b) => a[0] - b[0]);
    running.classList.toggle("on", rows.length > 0);
    while (running.children.length > rows.length) running.lastChild.remove();
    rows.forEach(([, id, name, says, late], place) => {
      let line = running.children[place];
      if (!line) {
        line = running.appendChild(document.createElement("a"));
        line.append(document.createElement("span"), document.createElement("span"));
      }
      line.href = "#" + id.replace(/^clock-/, "");
      line.className = late ? "late" : "";
      line.firstChild.textContent = name;
      line.lastChild.textContent = says;
    });
    document.body.style.paddingTop = rows.length ? running.offsetHeight + "px" : "";
  };
  setInterval(tick, 500);
  tick();
  stayOn();

  // -- the record
  const numbered = (key, field) => state.fields[key + "-" + field] || "";
  const record = () => {
    const done = (key) => state.ticks[key] || "";
    const steps = all(".step .tick .box").map((box) => box.dataset.key).map((key) => ({
      step: Number(key.slice(5)), done: done(key), hold_passed: done(key + "-hold"),
      result: numbered(key, "result"), note: numbered(key, "note"),
    })).filter((step) => step.done || step.hold_passed || step.result || step.note);
    const readings = Object.entries(job.readings).map(([key, reading]) => ({
      name: reading.name, question: reading.question, unit: reading.unit,
      value: state.fields[key] || "", at: numbered(key, "at"),
    })).filter((reading) => reading.value);
    const batches = Object.keys(job.clocks).filter((key) => key.startsWith("batch-")).map((key) => ({
      batch: Number(key.slice(6)), done: done(key), mixed_at: numbered(key, "at"),
      temperature: numbered(key, "temperature"), mass: numbered(key, "mass"),
    })).filter((batch) => batch.done || batch.mixed_at || batch.temperature || batch.mass);
    const maker = Object.entries(job.confirm).map(([key, text]) => ({ text, value: state.fields[key] || "" }))
      .filter((line) => line.value);
    return {
      advisor_record: job.record, title: job.title, rules: job.rules, saved: now(), who: state.fields.who || "",
      answers: job.answers, recall: job.recall, readings, batches, steps, maker, notes: state.fields.notes || "",
    };
  };
  const button = (id, act) => { const found = $("#" + id); if (found) found.addEventListener("click", act); };
  button("save", () => {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([JSON.stringify(record(), null, 1) + "\n"], { type: "application/json" }));
    link.download = "record-" + job.key.slice(0, 8) + ".json";
    link.click();
    setTimeout(() => URL.revokeObjectURL(link.href), 10000);
  });
  button("print", () => window.print());
  button("clear", () => {
    if (!window.confirm(W.clear_sure)) return;
    state = fresh();
    try { localStorage.removeItem(storeName); } catch { keeps = false; }
    location.reload();
  });
  const reasons = $("#with-reasons");
  if (reasons) reasons.addEventListener("change", () =>
    document.documentElement.classList.toggle("with-reasons", reasons.checked));
  keep();
})();
