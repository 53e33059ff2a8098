/* The worker of the desk, behind the text of waiting.js and AWAY, a page of one sentence: it keeps no page and looks
   into none. Where there is no network it says so, with what waits; once there is one, it sends that. */
"use strict";

self.addEventListener("install", () => self.skipWaiting());

self.addEventListener("activate", (event) => event.waitUntil((async () => {
  for (const name of await caches.keys()) await caches.delete(name); // no version of this one keeps any
  await self.clients.claim();
})()));

self.addEventListener("fetch", (event) => {
  if (event.request.mode === "navigate") event.respondWith(fetch(event.request).catch(() => away()));
});

self.addEventListener("sync", (event) => {
  if (event.tag === "waiting") event.waitUntil(Waiting.sendAll().then(() => tell("sent"), (error) => tell("waiting").then(() => { throw error; })));
});

async function tell(what) {
  for (const page of await self.clients.matchAll()) page.postMessage(what);
}

async function away() {
  let lines = "";
  try {
    await Waiting.nothingGoes();
    const waits = (await Waiting.all()).filter((one) => one.state === "waiting");
    lines = waits.map((one) => `<li><b>${plain(one.title)}</b> ${plain(one.when)}</li>`).join("");
    if (waits.length && self.registration.sync) await self.registration.sync.register("waiting");
  } catch {
    // Without its list the page still says that there is no network.
  }
  const page = AWAY.page.replace("<!--forms-->", () => lines && `<ul>${lines}</ul>`)
    .replace(lines ? "<!--kept" : "<!--open", "").replace(lines ? "kept-->" : "open-->", "");
  return new Response(page, {
    status: 503, headers: { "Content-Type": "text/html; charset=utf-8", "Content-Security-Policy": AWAY.policy },
  });
}

function plain(text) {
  return text.replace(/[&<>"']/g, (sign) => `&#${sign.charCodeAt(0)};`);
}
