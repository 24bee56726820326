"use strict";
// Draws what changes with the day shown. All text goes in as text, never as markup.
(() => {
  const data = JSON.parse(document.getElementById("plan-data").textContent);
  const words = data.words;
  const svgNames = "http://www.w3.org/2000/svg";
  const dayLength = 86400000;
  const start = Date.parse(data.start + "T00:00:00Z");
  const startWeekday = (new Date(start).getUTCDay() + 6) % 7;
  const byId = (id) => document.getElementById(id);

  // Words.

  const fill = (text, values) => text.replace(/\{(\w+)\}/g, (_, name) => values[name] ?? "");
  const dateOf = (day) => new Date(start + day * dayLength);
  const isoDate = (day) => dateOf(day).toISOString().slice(0, 10);
  const dayName = (day) => {
    const date = dateOf(day);
    return fill(words.date, {
      weekday: words.weekdays[(date.getUTCDay() + 6) % 7],
      day: date.getUTCDate(),
      month: words.months[date.getUTCMonth()],
      year: date.getUTCFullYear(),
    });
  };
  // ISO 8601: a week belongs to the year that holds its Thursday.
  const weekName = (day) => {
    const thursday = dateOf(mondayOf(day) + 3);
    const first = Date.UTC(thursday.getUTCFullYear(), 0, 1);
    const week = 1 + Math.floor((thursday - first) / dayLength / 7);
    return fill(words.week, { week, year: thursday.getUTCFullYear() });
  };
  const mondayOf = (day) => day - ((((day + startWeekday) % 7) + 7) % 7);
  const amount = (at) => data.amounts[at];
  // What stood before the first day is no seedling on hand, whether its sowing is known or not.
  const sownAs = (stay) =>
    stay.sow !== null ? dayName(stay.sow) : stay.transplant < 0 ? "" : words["on-hand"];
  const wideAs = (millimetres) => `${Math.round(millimetres * data.wide[0])} ${data.wide[1]}`;
  const element = (name, text, parent) => {
    const made = document.createElement(name);
    if (text !== undefined) made.textContent = text;
    if (parent) parent.append(made);
    return made;
  };

  // The plan.

  const stays = data.stays.map((ofHole) =>
    ofHole.map(([crop, want, sow, transplant, removal, series, harvests]) => ({
      crop, want, sow, transplant, removal, series, harvests,
    })));
  // On a day on which one plant makes room for the next, it is the one that leaves.
  const stayOn = (hole, day) => {
    const stay = stays[hole].find((s) => s.removal >= day);
    return stay && stay.transplant <= day ? stay : undefined;
  };
  const development = (stay, day) => {
    if (stay.series === null) return undefined;
    const text = data.series[stay.series];
    const at = Math.min(2 * (day - stay.transplant), text.length - 2);
    return parseInt(text.slice(at, at + 2), 36);
  };
  // Canopy diameter in millimetres, between the steps that the page knows.
  const diameter = (stay, thousandths) => {
    const steps = data.crops[stay.crop].canopy;
    if (steps.length === 0) return 0;
    const at = Math.min((thousandths ?? 0) / 10, steps.length - 1);
    const below = Math.floor(at);
    const above = Math.min(below + 1, steps.length - 1);
    return steps[below] + (steps[above] - steps[below]) * (at - below);
  };
  const isDue = (stay, day) => {
    const monday = mondayOf(day);
    for (let i = 0; i < stay.harvests.length; i += 2) {
      if (stay.harvests[i] >= monday && stay.harvests[i] < monday + 7) return true;
    }
    return false;
  };
  const percent = (stay, day) => {
    const now = development(stay, day);
    return now === undefined ? "?" : Math.min(100, Math.floor(now / 10));
  };

  // The map.

  const holes = [];
  for (const group of document.querySelectorAll("[data-hole]")) {
    const hole = Number(group.dataset.hole);
    holes[hole] = {
      group,
      leaf: group.querySelector(".leaf"),
      over: group.querySelector(".over"),
      code: group.querySelector(".code"),
      number: group.querySelector(".number"),
    };
  }
  const tubes = [];
  for (const outline of document.querySelectorAll("[data-tube]")) {
    (tubes[outline.dataset.tube] ??= []).push(outline);
  }
  let today = -1;
  let chosen = -1;

  const set = (node, name, value) => {
    if (node.getAttribute(name) !== value) node.setAttribute(name, value);
  };
  const drawHole = (hole, day) => {
    const { group, leaf, over, code } = holes[hole];
    const stay = stayOn(hole, day);
    const name = data.holes[hole];
    if (!stay) {
      set(leaf, "r", "0");
      set(over, "r", "0");
      if (code.textContent !== "") code.textContent = "";
      group.removeAttribute("data-crop");
      set(group, "aria-label", fill(words.empty, { hole: name }));
      return;
    }
    const crop = data.crops[stay.crop];
    const wide = diameter(stay, development(stay, day));
    const due = isDue(stay, day);
    const radius = String(Math.round(wide / 2));
    set(leaf, "r", radius);
    set(over, "r", radius);
    set(leaf, "class", `leaf tint-${crop.tint}`);
    set(over, "class", `over hatch-${crop.hatch}${due ? " due" : ""}`);
    if (code.textContent !== crop.code) code.textContent = crop.code;
    set(group, "data-crop", crop.code);
    const told = fill(words.stands, {
      hole: name, crop: crop.name, percent: percent(stay, day),
      wide: wideAs(wide), out: dayName(stay.removal),
    });
    set(group, "aria-label", due ? `${told}, ${words.due}` : told);
  };

  const slider = byId("day");
  const dateField = byId("date");
  const show = (wanted) => {
    const day = Math.max(0, Math.min(data.days - 1, Math.round(wanted)));
    if (day === today) return;
    today = day;
    for (let hole = 0; hole < holes.length; hole++) drawHole(hole, day);
    data.tubes.forEach((tube, at) => {
      const name = tube.cleans.includes(day) ? "tube clean" : "tube";
      for (const outline of tubes[at] ?? []) set(outline, "class", name);
    });
    const name = dayName(day);
    slider.value = String(day);
    slider.setAttribute("aria-valuetext", name);
    byId("day-name").textContent = name;
    byId("day-week").textContent = weekName(day);
    dateField.value = isoDate(day);
    for (const line of document.querySelectorAll(".cursor")) {
      line.setAttribute("transform", `translate(${left + day * perDay} 0)`);
    }
    tell(chosen);
  };

  // What is told of a hole.

  const detail = byId("detail");
  const untold = detail.textContent.trim();
  const nextAfter = (stay, day) => {
    for (let i = 0; i < stay.harvests.length; i += 2) {
      if (stay.harvests[i] >= day) return [stay.harvests[i], stay.harvests[i + 1]];
    }
    return undefined;
  };
  const tell = (hole) => {
    detail.replaceChildren();
    if (hole < 0) {
      element("p", untold, detail);
      return;
    }
    const stay = stayOn(hole, today);
    element("h3", data.holes[hole], detail);
    const list = element("dl", undefined, detail);
    const line = (name, text) => {
      const row = element("div", undefined, list);
      element("dt", name, row);
      element("dd", text, row);
    };
    if (stay) {
      const wide = diameter(stay, development(stay, today));
      const next = nextAfter(stay, today);
      element("p", `${data.crops[stay.crop].name}, ${fill(words["for-want"], { want: data.wants[stay.want] })}`, detail);
      detail.insertBefore(detail.lastChild, list);
      const sown = sownAs(stay);
      if (sown) line(data.crops[stay.crop].started ? words.started : words.sown, sown);
      line(words.set, dayName(stay.transplant));
      line(words.grown, `${percent(stay, today)} %`);
      line(words.wide, wideAs(wide));
      if (next) line(words["next-harvest"], `${dayName(next[0])}, ${amount(next[1])}`);
      line(words.out, dayName(stay.removal));
    } else {
      element("p", words.free, detail);
      detail.insertBefore(detail.lastChild, list);
    }
    const from = stay ? stay.removal : today;
    const then = stays[hole].find((s) => s !== stay && s.transplant >= from);
    line(words.then, then
      ? `${data.crops[then.crop].name}, ${dayName(then.transplant)}`
      : words.nothing);
  };
  const choose = (hole) => {
    if (chosen >= 0) holes[chosen].group.classList.remove("chosen");
    chosen = hole;
    if (hole >= 0) holes[hole].group.classList.add("chosen");
    tell(hole);
  };

  // One hole of a bank is in the tab order; arrows go to the nearest in their direction.
  const place = (hole) => {
    const cup = holes[hole].group.querySelector(".cup");
    return [Number(cup.getAttribute("cx")), Number(cup.getAttribute("cy"))];
  };
  const arrows = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };
  const beside = (hole, [dx, dy]) => {
    const [x, y] = place(hole);
    const picture = holes[hole].group.ownerSVGElement;
    let best;
    let least = Infinity;
    for (const group of picture.querySelectorAll("[data-hole]")) {
      const other = Number(group.dataset.hole);
      const [ox, oy] = place(other);
      const along = (ox - x) * dx + (oy - y) * dy;
      const across = Math.abs((ox - x) * dy) + Math.abs((oy - y) * dx);
      const cost = along + 3 * across;
      if (other !== hole && along > 1 && across < along + 1 && cost < least) {
        least = cost;
        best = other;
      }
    }
    return best;
  };
  const holeOf = (event) => {
    const group = event.target.closest?.("[data-hole]");
    return group ? Number(group.dataset.hole) : -1;
  };
  for (const picture of document.querySelectorAll("svg.rig")) {
    picture.addEventListener("click", (event) => {
      const hole = holeOf(event);
      if (hole >= 0) holes[hole].group.focus();
      choose(hole);
    });
    picture.addEventListener("focusin", (event) => {
      const hole = holeOf(event);
      for (const group of picture.querySelectorAll("[data-hole][tabindex='0']")) {
        group.setAttribute("tabindex", "-1");
      }
      if (hole < 0) return;
      holes[hole].group.setAttribute("tabindex", "0");
      choose(hole);
    });
    picture.addEventListener("pointerover", (event) => {
      const hole = holeOf(event);
      tell(hole >= 0 ? hole : chosen);
    });
    picture.addEventListener("pointerleave", () => tell(chosen));
    picture.addEventListener("keydown", (event) => {
      const hole = holeOf(event);
      if (hole < 0) return;
      if (event.key === "Enter" || event.key === " ") {
        event.preventDefault();
        choose(hole);
      }
      const to = arrows[event.key] && beside(hole, arrows[event.key]);
      if (to !== undefined) {
        event.preventDefault();
        holes[to].group.focus();
      }
    });
  }

  // Moving through the days.

  const play = byId("play");
  let timer = 0;
  const stop = () => {
    clearInterval(timer);
    timer = 0;
    play.textContent = words.play;
    play.setAttribute("aria-pressed", "false");
    detail.setAttribute("aria-live", "polite");
  };
  play.addEventListener("click", () => {
    if (timer) {
      stop();
      return;
    }
    const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
    if (today >= data.days - 1) show(0);
    play.textContent = words.pause;
    play.setAttribute("aria-pressed", "true");
    detail.setAttribute("aria-live", "off");
    timer = setInterval(() => {
      if (today >= data.days - 1) stop();
      else show(today + (calm ? 7 : 1));
    }, calm ? 1500 : 180);
  });
  slider.addEventListener("input", () => show(Number(slider.value)));
  slider.addEventListener("keydown", (event) => {
    const by = { PageUp: 7, PageDown: -7 }[event.key];
    if (by) {
      event.preventDefault();
      show(today + by);
    }
  });
  dateField.addEventListener("change", () => {
    const at = Date.parse(dateField.value + "T00:00:00Z");
    if (!Number.isNaN(at)) show((at - start) / dayLength);
  });
  for (const button of document.querySelectorAll("[data-step]")) {
    button.addEventListener("click", () => show(today + Number(button.dataset.step)));
  }

  // Who has which hole: a row a hole, drawn when it comes into sight.

  const left = 78;
  const room = byId("stay-charts").clientWidth - left - 10;
  const perDay = Math.max(1.9, Math.min(4, room / data.days));
  const head = 20;
  const row = 18;
  const svg = (name, attributes, parent) => {
    const made = document.createElementNS(svgNames, name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    parent.append(made);
    return made;
  };
  const xOf = (day) => left + Math.max(0, Math.min(data.days, day)) * perDay;
  const bankTubes = (bank) => data.tubes.filter((tube) => tube.bank === bank);
  const drawMonths = (chart, high) => {
    for (let day = 0; day < data.days; day++) {
      const date = dateOf(day);
      if (date.getUTCDate() !== 1 && day !== 0) continue;
      svg("path", { class: "grid", d: `M${xOf(day)} ${head - 6}V${high}` }, chart);
      if (data.days - day > 12 && (day !== 0 || date.getUTCDate() < 20)) {
        svg("text", { class: "month", x: xOf(day) + 3, y: 12 }, chart).textContent =
          words.months[date.getUTCMonth()];
      }
    }
  };
  const drawStays = (chart) => {
    const bank = Number(chart.dataset.bank);
    const rows = bankTubes(bank).flatMap((tube) =>
      Array.from({ length: tube.count }, (_, at) => tube.first + at));
    const wide = left + data.days * perDay + 8;
    const high = head + rows.length * row + 2;
    for (const [name, value] of [["width", wide], ["height", high], ["viewBox", `0 0 ${wide} ${high}`]]) {
      chart.setAttribute(name, value);
    }
    drawMonths(chart, high);
    const boxes = data.crops.map(() => "");
    const marks = { sown: "", set: "", cut: "", taken: "" };
    const codes = [];
    rows.forEach((hole, at) => {
      const y = head + at * row;
      svg("text", { class: "hole-name", x: left - 6, y: y + row / 2 }, chart).textContent = data.holes[hole];
      for (const stay of stays[hole]) {
        const [x1, x2] = [xOf(stay.transplant), xOf(stay.removal)];
        if (stay.sow !== null && stay.sow >= 0 && stay.sow < data.days) {
          marks.sown += `M${xOf(stay.sow)} ${y + row - 1}l-3 -5h6z`;
        }
        if (stay.transplant >= data.days || stay.removal < 0) continue;
        boxes[stay.crop] += `M${x1} ${y + 2}H${x2}V${y + row - 2}H${x1}z`;
        if (stay.transplant >= 0) marks.set += `M${x1} ${y + 1}V${y + row - 1}`;
        for (let i = 0; i + 2 < stay.harvests.length; i += 2) {
          const day = stay.harvests[i];
          if (day >= 0 && day < data.days) marks.cut += `M${xOf(day)} ${y + 2}v6`;
        }
        if (stay.removal < data.days) marks.taken += `M${x2 - 4} ${y + row / 2}l4 -4l4 4l-4 4z`;
        if (x2 - x1 >= 24) codes.push([(x1 + x2) / 2 - 2, y + row / 2, data.crops[stay.crop].code]);
      }
    });
    data.crops.forEach((crop, at) => {
      if (boxes[at] === "") return;
      svg("path", { class: `stay tint-${crop.tint}`, d: boxes[at] }, chart);
      svg("path", { class: `stay-over hatch-${crop.hatch}`, d: boxes[at] }, chart);
    });
    for (const [name, path] of Object.entries(marks)) {
      if (path !== "") svg("path", { class: name, d: path }, chart);
    }
    let scrubbed = "";
    let crosses = "";
    for (const tube of bankTubes(bank)) {
      const y = head + rows.indexOf(tube.first) * row;
      for (const day of tube.cleans) {
        const x = xOf(day) - 3;
        scrubbed += `M${x} ${y + 1}h6v${tube.count * row - 2}h-6z`;
        for (let at = 0; at < tube.count; at++) {
          crosses += `M${x} ${y + at * row + 4}l6 10M${x + 6} ${y + at * row + 4}l-6 10`;
        }
      }
      svg("path", { class: "between", d: `M4 ${y}H${wide}` }, chart);
    }
    if (scrubbed !== "") svg("path", { class: "scrubbed", d: scrubbed }, chart);
    if (crosses !== "") svg("path", { class: "scrub-mark", d: crosses }, chart);
    for (const [x, y, code] of codes) svg("text", { class: "stay-code", x, y }, chart).textContent = code;
    svg("path", { class: "cursor", d: `M0 ${head - 4}V${high}`, transform: `translate(${left + today * perDay} 0)` }, chart);
    chart.addEventListener("click", (event) => {
      const box = chart.getBoundingClientRect();
      const at = Math.floor((event.clientY - box.top - head) / row);
      show(Math.floor((event.clientX - box.left - left) / perDay));
      if (rows[at] !== undefined) choose(rows[at]);
    });
  };
  const waiting = new Set(document.querySelectorAll("svg.stays"));
  for (const chart of waiting) {
    const rows = bankTubes(Number(chart.dataset.bank)).reduce((sum, tube) => sum + tube.count, 0);
    chart.setAttribute("width", left + data.days * perDay + 8);
    chart.setAttribute("height", head + rows * row + 2);
  }
  const drawNow = (chart) => {
    if (waiting.delete(chart)) drawStays(chart);
  };
  const watcher = new IntersectionObserver((seen) => {
    for (const { isIntersecting, target } of seen) if (isIntersecting) drawNow(target);
  }, { rootMargin: "600px" });
  for (const chart of waiting) watcher.observe(chart);
  addEventListener("beforeprint", () => {
    for (const chart of [...waiting]) drawNow(chart);
  });

  // The same as a table, made when it is asked for.

  const table = byId("stays-table");
  table.addEventListener("toggle", () => {
    const into = table.querySelector("div");
    if (into.firstChild) return;
    const made = document.createElement("table");
    const heads = element("tr", undefined, element("thead", undefined, made));
    for (const name of [words.hole, words.crop, words.sown, words.set, words.harvests, words.out]) {
      element("th", name, heads).setAttribute("scope", "col");
    }
    const body = element("tbody", undefined, made);
    data.holes.forEach((name, hole) => {
      for (const stay of stays[hole]) {
        const line = element("tr", undefined, body);
        element("th", name, line).setAttribute("scope", "row");
        element("td", data.crops[stay.crop].name, line);
        element("td", sownAs(stay), line);
        element("td", dayName(stay.transplant), line);
        const harvests = [];
        for (let i = 0; i < stay.harvests.length; i += 2) {
          harvests.push(`${dayName(stay.harvests[i])}: ${amount(stay.harvests[i + 1])}`);
        }
        element("td", harvests.join("; "), line);
        element("td", dayName(stay.removal), line);
      }
    });
    into.append(made);
  });

  // Ticks, kept where the browser lets a file keep anything.

  const shelf = `steadyleaf ${data.garden}`;
  const kept = () => {
    try {
      return new Set(JSON.parse(localStorage.getItem(shelf) ?? "[]"));
    } catch {
      return new Set();
    }
  };
  const boxes = [...document.querySelectorAll(".chores input")];
  const before = kept();
  for (const box of boxes) box.checked = before.has(box.id);
  byId("chores").addEventListener("change", () => {
    const now = kept();
    for (const box of boxes) {
      if (box.checked) now.add(box.id);
      else now.delete(box.id);
    }
    try {
      localStorage.setItem(shelf, JSON.stringify([...now]));
    } catch {
      // Then they last as long as the page is open.
    }
  });

  // Open on today, if it is planned.

  const clock = new Date();
  const now = (Date.UTC(clock.getFullYear(), clock.getMonth(), clock.getDate()) - start) / dayLength;
  const isPlanned = now >= 0 && now < data.days;
  if (isPlanned) {
    for (const week of document.querySelectorAll(".week")) {
      week.open = Number(week.dataset.from) === mondayOf(now);
    }
  }
  show(isPlanned ? now : data.open);
})();
