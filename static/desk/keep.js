/* Keeps what is pressed at the desk until the server has answered it, and shows what waits. A page without this script
   has the same forms; they are only not kept. */
"use strict";

(() => {
  const aside = document.getElementById("waiting");
  if (!aside || !window.indexedDB) return;
  const { account, now, answered, zone } = aside.dataset;
  const ahead = Number(now) * 1000 - Date.now(); // the server's clock counts, not the phone's
  const list = aside.querySelector("ul");
  const row = aside.querySelector("template").content;
  let leaving = false;

  const isKept = (form) => form.getAttribute("method") === "post" && form.elements.once
    && !form.querySelector("input[type=password]");
  const wayOf = (form, submitter) => new URL((submitter && submitter.getAttribute("formaction"))
    || form.getAttribute("action") || location.href, location.href);

  function entryOf(form, submitter) {
    const fields = [], files = [];
    for (const [name, value] of new FormData(form, submitter)) {
      if (typeof value === "string") { if (name !== "mark") fields.push([name, value]); }
      else if (value.name) files.push([name, value]);
    }
    const way = wayOf(form, submitter), pressed = Date.now();
    return {
      id: form.dataset.waiting || `${pressed}-${Math.random().toString(36).slice(2)}`, once: form.elements.once.value, account, fields, files, pressed, since: pressed, state: "going",
      path: way.pathname + way.search,
      title: titleOf(form, submitter),
      when: whenWords(new Date(pressed + ahead)),
    };
  }

  /* As the desk says it, by the clock at the house: Sun Nov 29, 4:54 pm. */
  function whenWords(at) {
    const as = (parts) => at.toLocaleString("en-US", { ...parts, timeZone: zone || undefined });
    const clock = as({ hour: "numeric", minute: "2-digit" }).replace(/\s/g, " ").toLowerCase();
    return `${as({ weekday: "short" })} ${as({ month: "short" })} ${as({ day: "numeric" })}, ${clock}`;
  }

  function titleOf(form, submitter) {
    const about = submitter && submitter.getAttribute("aria-label");
    const house = document.querySelector(".mast .back");
    const title = about || (document.querySelector("h1") || form).textContent.trim();
    return [title, house && house.textContent].filter(Boolean).map((one) => one.trim().slice(0, 120)).join(", ");
  }

  function say(form, name, value) {
    const field = form.querySelector(`input[type=hidden][name=${name}]`) || form.appendChild(document.createElement("input"));
    Object.assign(field, { type: "hidden", name, value });
  }

  async function pressed(event) {
    const form = event.target, submitter = event.submitter;
    if (event.defaultPrevented || form.dataset.going) return;
    if (wayOf(form).pathname === "/desk/sign-out") return leave(event, form);
    if (!isKept(form)) return;
    event.preventDefault();
    form.dataset.going = "1";
    say(form, "pressed_at", Math.floor((Date.now() + ahead) / 1000));
    await Promise.all([...form.elements].map((field) => field.making));
    let kept = false;
    try {
      const entry = entryOf(form, submitter);
      if (!navigator.onLine) entry.state = "waiting";
      await Waiting.put(entry);
      kept = true;
      await askForSync();
    } catch {
      // No room, or no base (a private window): then it goes as any form does.
    }
    if (kept && !navigator.onLine) return stay(form);
    form.requestSubmit ? form.requestSubmit(submitter) : form.submit();
  }

  /* Whether it stands on this page to be looked at and pressed: then it does not go behind one's back. */
  function isOpenHere(entry) {
    return [...document.forms].some((form) => form.dataset.waiting === entry.id
      || ("carried" in form.dataset && form.elements.once && form.elements.once.value === entry.once));
  }

  /* The camera is there for the next photo, whatever waits; another form is done with. */
  function stay(form) {
    if (form.matches(".shot")) anew(form);
    else form.hidden = true;
    show(true).then(() => aside.scrollIntoView());
  }

  function anew(form) {
    form.reset();
    delete form.dataset.going;
    form.elements.once.value = Array.from(crypto.getRandomValues(new Uint8Array(16)), (one) => one.toString(16).padStart(2, "0")).join("");
  }

  async function askForSync() {
    const worker = navigator.serviceWorker && await navigator.serviceWorker.getRegistration("/desk/");
    if (worker && worker.sync) await worker.sync.register("waiting").catch(() => 0);
  }

  async function leave(event, form) {
    event.preventDefault();
    form.dataset.going = "1";
    const mine = await Waiting.all().then((all) => all.filter((one) => one.account === account && one.state !== "sent"), () => []);
    if (mine.length && !leaving) {
      leaving = true;
      delete form.dataset.going;
      document.getElementById("waiting-leave").hidden = false;
      return show(true).then(() => aside.scrollIntoView());
    }
    await Waiting.empty().catch(() => 0);
    for (const one of navigator.serviceWorker ? await navigator.serviceWorker.getRegistrations() : []) await one.unregister();
    form.submit();
  }

  async function show(open) {
    const all = await Waiting.all();
    const mine = all.filter((one) => one.account === account && !(one.state === "going" && Date.now() - one.since < 5000));
    list.replaceChildren(...mine.map(lineOf));
    const many = mine.filter((one) => one.state !== "sent").length;
    document.getElementById("waiting-many").textContent = many || mine.length;
    const not = mine.filter((one) => one.state === "refused").length;
    const word = not && not === many ? "refused" : many === 1 ? "waits" : many ? "wait" : "sent";
    for (const words of aside.querySelectorAll("[data-many]")) words.hidden = words.dataset.many !== word;
    aside.querySelector("details").open ||= open || mine.some((one) => one.state === "sent" || one.state === "refused");
    document.getElementById("waiting-others").hidden = !all.some((one) => one.account !== account);
    aside.hidden = !mine.length && all.every((one) => one.account === account);
    for (const one of mine) if (one.state === "sent") await Waiting.drop(one.id); // said once
    return many;
  }

  function lineOf(one) {
    const line = row.cloneNode(true).firstElementChild;
    const put = (name, text) => { line.querySelector(name).textContent = text || ""; };
    put(".title", one.title);
    put(".when", one.when);
    put(".became", (one.said || []).join(" "));
    put(".reason", one.reason);
    for (const words of line.querySelectorAll("[data-state]")) words.hidden = words.dataset.state !== one.state;
    const open = line.querySelector(".open");
    open.href = `${one.path}#waiting-${one.id}`;
    if (one.state === "refused") open.addEventListener("click", (event) => goOn(event, one));
    line.querySelector(".photos").append(...(one.files || []).map(([, file]) => small(file)));
    line.querySelector(".ways").hidden = one.state === "sent" || one.state === "going";
    line.querySelector(".again").addEventListener("click", async () => {
      await Waiting.put({ ...one, state: "waiting" });
      await send(() => false);
    });
    line.querySelector(".drop").addEventListener("click", async () => {
      await Waiting.drop(one.id);
      await show(true);
    });
    return line;
  }

  /* Drawn, since a page may show no file of the phone as it is. */
  function small(file) {
    const photo = document.createElement("canvas");
    Object.assign(photo, { role: "img", ariaLabel: file.name, height: 72, width: 96 });
    createImageBitmap(file).then((all) => {
      photo.width = Math.max(1, Math.round(all.width * 72 / all.height));
      photo.getContext("2d").drawImage(all, 0, 0, photo.width, 72);
      all.close();
    }).catch(() => photo.remove()); // what this browser can't read stands in words
    return photo;
  }

  /* What was refused goes once more, this time as the browser sends a form: the server's page comes, with what was
     typed, with its words at the fields, and with what it asks before. */
  async function goOn(event, one) {
    event.preventDefault();
    const form = document.createElement("form"), mark = document.querySelector("input[name=mark]");
    Object.assign(form, { method: "post", action: one.path, enctype: "multipart/form-data", hidden: true });
    for (const [name, text] of [...one.fields, ["mark", mark.value]]) {
      const field = document.createElement("textarea"); // an input would take the line ends out
      form.append(Object.assign(field, { name, value: text }));
    }
    for (const name of new Set(one.files.map(([name]) => name))) {
      const field = form.appendChild(Object.assign(document.createElement("input"), { type: "file", name }));
      fileInto(field, one.files.filter(([its]) => its === name).map(([, file]) => file));
    }
    document.body.append(form);
    await Waiting.put({ ...one, state: "going", since: Date.now() });
    HTMLFormElement.prototype.submit.call(form);
  }

  async function send(isOpen = isOpenHere) {
    try {
      await Waiting.sendAll(account, isOpen);
    } catch {
      // No network: it waits on.
    }
    return show(false);
  }

  /* What was typed goes back into its form, photos and all, under the mark that it was sent with. */
  async function fill() {
    const one = location.hash.startsWith("#waiting-") && await Waiting.get(location.hash.slice(9));
    const kept = [...document.forms].filter(isKept);
    const form = one && one.account === account && (kept.find((its) => wayOf(its).pathname === one.path.split("?")[0]) || kept[0]);
    if (!form) return;
    form.hidden = false;
    delete form.dataset.going;
    form.dataset.waiting = one.id;
    for (const field of form.elements) {
      if (field.type === "checkbox" || field.type === "radio") field.checked = one.fields.some(([name, text]) => name === field.name && text === field.value);
      else if (field.type === "file") fileInto(field, one.files.filter(([name]) => name === field.name).map(([, file]) => file));
      else if (field.name && field.name !== "mark" && field.name !== "seen") {
        const typed = one.fields.find(([name]) => name === field.name);
        if (typed) field.value = typed[1];
      }
    }
    for (const folded of form.querySelectorAll("details")) folded.open = true;
    form.scrollIntoView();
  }

  function fileInto(field, files) {
    const held = new DataTransfer();
    for (const file of files) held.items.add(file);
    field.files = held.files;
  }

  async function begin() {
    const done = answered.split(" ");
    for (const one of await Waiting.all()) if (one.state === "going" && done.includes(one.once)) await Waiting.drop(one.id);
    await fill();
    await show(false);
    if (await send()) setInterval(() => send(), 30000);
  }

  document.addEventListener("submit", pressed);
  window.addEventListener("hashchange", () => fill().catch(() => 0)); // its form stands on this page already
  window.addEventListener("online", () => send());
  window.addEventListener("pageshow", (event) => {
    if (event.persisted) for (const form of document.forms) delete form.dataset.going;
  });
  if (navigator.serviceWorker) {
    navigator.serviceWorker.register("/desk/worker.js", { scope: "/desk/", updateViaCache: "none" }).catch(() => 0);
    navigator.serviceWorker.addEventListener("message", () => show(false));
  }
  begin().catch(() => 0);
})();
