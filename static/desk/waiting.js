/* Forms that were pressed and have no answer yet. They lie in the browser's own base, each with the mark that makes it
   one however often it is sent, whose it is, when it was pressed and what it had seen. The desk's pages and the
   worker both use this file; neither keeps a page. */
"use strict";

const Waiting = (() => {
  const FORMS = "forms";
  const GOING = 60 * 1000; // so long a form that is on its way is left to that way

  function open() {
    return new Promise((done, fail) => {
      const asked = indexedDB.open("desk", 1);
      asked.onupgradeneeded = () => asked.result.createObjectStore(FORMS, { keyPath: "id" });
      asked.onsuccess = () => done(asked.result);
      asked.onerror = () => fail(asked.error);
    });
  }

  async function within(mode, what) {
    const base = await open();
    try {
      return await new Promise((done, fail) => {
        const turn = base.transaction(FORMS, mode);
        const asked = what(turn.objectStore(FORMS));
        turn.oncomplete = () => done(asked.result);
        turn.onabort = turn.onerror = () => fail(turn.error || new Error("not kept"));
      });
    } finally {
      base.close();
    }
  }

  const all = async () =>
    (await within("readonly", (forms) => forms.getAll())).sort((one, other) => one.pressed - other.pressed);
  const get = (id) => within("readonly", (forms) => forms.get(id));
  const put = (form) => within("readwrite", (forms) => forms.put(form));
  const drop = (id) => within("readwrite", (forms) => forms.delete(id));
  const empty = () => within("readwrite", (forms) => forms.clear());

  /* Who is signed in here now, with the mark that forms of theirs carry. Throws without a network. */
  async function standing() {
    const answer = await fetch("/desk/standing", { cache: "no-store", headers: { "X-By-Script": "1" } });
    if (!answer.ok) throw new Error("no answer");
    return answer.json();
  }

  function body(form, mark) {
    const sent = new FormData();
    for (const [name, text] of form.fields) sent.append(name, text);
    for (const [name, file] of form.files) sent.append(name, file, file.name);
    sent.append("mark", mark);
    return sent;
  }

  /* Sends one and keeps what became of it. Throws without a network; what the server can't do now stays waiting. */
  async function send(form, mark) {
    const answer = await fetch(form.path, {
      method: "POST", body: body(form, mark), headers: { "X-By-Script": "1" }, redirect: "manual",
    });
    const told = (answer.headers.get("Content-Type") || "").startsWith("application/json") ? await answer.json() : {};
    const now = await get(form.id);
    if (!now) return; // dropped meanwhile, or answered elsewhere
    if (told.state === "sent") await put({ ...now, state: "sent", said: told.said, fields: [], files: [] });
    else if (told.state === "refused") await put({ ...now, state: "refused", reason: told.reason });
    else await put({ ...now, state: "waiting" });
  }

  async function sendAsOne(account, isOpen = () => false) {
    const waits = (await all()).filter((one) => !isOpen(one)
      && (one.state === "waiting" || (one.state === "going" && Date.now() - one.since > GOING)));
    if (!waits.length) return;
    const who = await standing();
    if (account && who.account !== account) return; // the page is of somebody who is not here any more
    for (const form of waits) {
      if (who.account === form.account && !who.step) await send(form, who.mark);
    }
  }

  /* All that waits, of whoever is signed in, one after the other; in one place at a time. */
  async function sendAll(account, isOpen) {
    if (!navigator.locks) return sendAsOne(account, isOpen);
    return navigator.locks.request("desk waiting", () => sendAsOne(account, isOpen));
  }

  /* What was on its way has not arrived. */
  async function nothingGoes() {
    for (const form of await all()) if (form.state === "going") await put({ ...form, state: "waiting" });
  }

  return { all, get, put, drop, empty, sendAll, nothingGoes };
})();
