/*
 * Checks a receipt in the browser, and sends nothing: no address is called, and the page's policy forbids any.
 *
 * A receipt is one line of canonical JSON (RFC 8785) with an entry of the record, a proof that leads from it to the
 * root of the record's tree (RFC 9162, 2.1.3.2), and the head of that tree under a signature (Ed25519, RFC 8032).
 * SHA-256 and Ed25519 are the browser's own (Web Cryptography). Whose key it is, no page can know: its name is shown,
 * to be compared with the contract papers.
 */
"use strict";

const FIELDS = {
  receipt: "number", entry: "object", proof: "list", head: "object", public_key: "text", signature: "text",
};
const HEAD = { project: "number", size: "number", root: "text", at: "text" };
const ENTRY = {
  project: "number", sequence: "number", previous: "text", at: "text", actor: "object", kind: "text", body: "object",
};
const TIME = /^[0-9]{4}(-[0-9]{2}){2}T[0-9]{2}(:[0-9]{2}){2}(\.[0-9]{1,6})?Z$/;

/** Why a receipt does not hold, as a sentence. */
class Fault extends Error {}

/** That this browser can't check it: nothing is known of the receipt. */
class Unable extends Error {}

/* ---- Bytes ---- */

function hex(bytes) {
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

function bytesOf(digits) {
  return Uint8Array.from(digits.match(/../g) || [], (pair) => parseInt(pair, 16));
}

function joined(...parts) {
  const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    all.set(part, at);
    at += part.length;
  }
  return all;
}

function same(one, other) {
  return one.length === other.length && one.every((byte, at) => byte === other[at]);
}

async function sha256(bytes) {
  return new Uint8Array(await crypto.subtle.digest("SHA-256", bytes));
}

/** Whether the signature is this key's on these bytes. Throws Unable where the browser knows no Ed25519. */
async function signed(key, signature, bytes) {
  let known;
  try {
    known = await crypto.subtle.importKey("raw", key, { name: "Ed25519" }, false, ["verify"]);
  } catch (wrong) {
    if (wrong.name === "NotSupportedError") throw new Unable("This browser can’t check the signature.");
    return false;
  }
  return crypto.subtle.verify({ name: "Ed25519" }, known, signature, bytes);
}

/* ---- Canonical JSON (RFC 8785) ---- */

/** The one way to write this value. Throws Fault for text that has no UTF-8. */
function canonical(value) {
  if (typeof value === "string" && /\p{Surrogate}/u.test(value)) throw new Fault("It holds half a character.");
  if (Array.isArray(value)) return "[" + value.map(canonical).join(",") + "]";
  if (value === null || typeof value !== "object") return JSON.stringify(value);
  const names = Object.keys(value).sort(); // by UTF-16 code units, as RFC 8785, 3.2.3 asks
  return "{" + names.map((name) => canonical(name) + ":" + canonical(value[name])).join(",") + "}";
}

function canonicalBytes(value) {
  return new TextEncoder().encode(canonical(value));
}

/** The value of a file that must be canonical JSON, to the byte. */
function read(bytes) {
  let value, again;
  try {
    value = JSON.parse(new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes));
  } catch {
    throw new Fault("It can’t be read. The file was cut off or changed, or it is not a receipt.");
  }
  try {
    again = canonicalBytes(value);
  } catch {
    throw new Fault("It can’t be read: a letter in it was changed.");
  }
  if (!same(again, bytes)) throw new Fault("A space, an order or a letter was changed.");
  return value;
}

/* ---- What each part must be ---- */

const IS = {
  number: Number.isSafeInteger,
  text: (value) => typeof value === "string",
  list: Array.isArray,
  object: (value) => value !== null && typeof value === "object" && !Array.isArray(value),
};

/** Exactly these fields, each of its kind. */
function shaped(value, fields, where) {
  if (!IS.object(value)) throw new Fault(`It is not a receipt: “${where}” is not there.`);
  const names = new Set([...Object.keys(fields), ...Object.keys(value)]);
  for (const name of names) {
    const fits = Object.hasOwn(fields, name) && Object.hasOwn(value, name) && IS[fields[name]](value[name]);
    if (!fits) throw new Fault(`It is not a receipt: “${name}” in “${where}” is not as it should be.`);
  }
}

function digits(text, many, where) {
  if (typeof text !== "string" || text.length !== many || !/^[0-9a-f]*$/.test(text)) {
    throw new Fault(`It is not a receipt: “${where}” should be ${many} digits.`);
  }
  return bytesOf(text);
}

function checkEntry(entry, kinds) {
  const moved = IS.object(entry) && entry.clock_moved === true;
  shaped(entry, moved ? { ...ENTRY, clock_moved: "flag" } : ENTRY, "entry");
  if (!Object.hasOwn(kinds, entry.kind)) throw new Fault("The entry is of a kind that does not exist.");
  if (!TIME.test(entry.at)) throw new Fault("The entry has no time.");
  for (const name of ["kind", "id", "name"]) {
    if (!Object.hasOwn(entry.actor, name)) throw new Fault("The entry does not say who did it.");
  }
}
IS.flag = (value) => value === true;

/* ---- The proof ---- */

/** The root to which the proof leads from a leaf's hash (RFC 9162, 2.1.3.2), or null where it leads to none. */
async function rootFrom(leaf, index, size, proof) {
  if (!(index >= 0 && index < size)) return null;
  let place = index, last = size - 1, made = leaf;
  for (const beside of proof) {
    if (last === 0) return null;
    if (place % 2 === 1 || place === last) {
      made = await sha256(joined([1], beside, made));
      while (place % 2 === 0 && place > 0) {
        place = Math.floor(place / 2);
        last = Math.floor(last / 2);
      }
    } else {
      made = await sha256(joined([1], made, beside));
    }
    place = Math.floor(place / 2);
    last = Math.floor(last / 2);
  }
  return last === 0 ? made : null;
}

/** The first digits in groups of four, as they are printed. */
function grouped(code, many) {
  return code.slice(0, many).match(/..../g).join("-");
}

async function keyName(key) {
  return grouped(hex(await sha256(key)), 16);
}

/**
 * Checks the bytes of a receipt. Gives { entry, head, key, code }: the name of the key that signed, and the hash of the
 * entry. Throws Fault with what does not hold, Unable where this browser can't say.
 */
async function checkReceipt(bytes, kinds) {
  if (!globalThis.crypto || !crypto.subtle) throw new Unable("This browser can’t check it here.");
  const found = read(bytes);
  shaped(found, FIELDS, "file");
  if (found.receipt !== 1) throw new Fault("It is of a form that this page does not know.");
  const proof = found.proof.map((line) => digits(line, 64, "proof"));
  shaped(found.head, HEAD, "head");
  const root = digits(found.head.root, 64, "root");
  const key = digits(found.public_key, 64, "public_key"), signature = digits(found.signature, 128, "signature");
  checkEntry(found.entry, kinds);
  const { entry, head } = found, content = canonicalBytes(entry);
  if (entry.project !== head.project) throw new Fault("The entry is of another house than the signature.");
  const made = await rootFrom(await sha256(joined([0], content)), entry.sequence - 1, head.size, proof);
  if (made === null || !same(made, root)) throw new Fault("The proof does not lead from the entry to the root.");
  const good = await signed(key, signature, canonicalBytes({ head }));
  if (!good) throw new Fault("The signature is not that of the key in it.");
  return { entry, head, key: await keyName(key), code: hex(await sha256(content)) };
}

/* ---- The page ---- */

function put(parent, name, text, look) {
  const made = document.createElement(name);
  if (text !== undefined) made.textContent = String(text);
  if (look) made.className = look;
  parent.append(made);
  return made;
}

function row(block, name, text, look) {
  const line = put(block, "div", undefined, look ? "wide" : "");
  put(line, "dt", name);
  put(look === "code" ? put(line, "dd") : line, look === "code" ? "code" : "dd", text, look === "big" ? "big" : "");
}

function clock(at) {
  return at.replace("T", ", ").replace("Z", " UTC");
}

function showGood(box, { entry, head, key, code }, kinds) {
  const { body } = entry;
  put(box, "h2", "It holds under this key");
  put(put(box, "p", undefined, "key"), "code", key);
  put(box, "p", "Is that the key’s name in your contract papers? Then we signed it. If not, this proves nothing: "
    + "anyone can make a key, and a copy that brings its own key can’t vouch for it.");
  put(box, "p", `Entry ${entry.sequence} is in the record as it stood with ${head.size} on ${clock(head.at)}. `
    + "Not a letter of it was changed.");
  put(box, "h3", "What it says");
  const block = put(box, "dl", undefined, "block");
  row(block, "What", kinds[entry.kind], "big");
  if (typeof body.title === "string") row(block, "Choice", body.title, "big");
  row(block, "Who", entry.actor.name);
  row(block, "When", clock(entry.at));
  if (typeof body.name === "string" && body.name !== entry.actor.name) row(block, "Name", body.name);
  if (Number.isSafeInteger(body.decision)) row(block, "Question", body.decision);
  if (/^[0-9a-f]{64}$/.test(body.check_code)) row(block, "Check code", grouped(body.check_code, 12), "code");
  const all = put(box, "details");
  put(all, "summary", "The entry, field by field");
  const inside = put(all, "div");
  put(inside, "pre", JSON.stringify(entry, null, 1));
  put(inside, "p", `Its hash, which the next entry names: ${code}`);
}

async function showOne(file, kinds, result) {
  const box = put(result, "section");
  put(box, "p", file.name, "file");
  try {
    showGood(box, await checkReceipt(new Uint8Array(await file.arrayBuffer()), kinds), kinds);
  } catch (wrong) {
    const unable = !(wrong instanceof Fault);
    put(box, "h2", unable ? "Not checked" : "It does not hold");
    const why = unable && !(wrong instanceof Unable) ? "This browser can’t check it." : wrong.message;
    put(box, "p", unable ? `${why} That says nothing about the receipt. Check it by hand, below.` : why);
    if (unable) document.getElementById("hand").open = true;
  }
}

async function show(files) {
  const result = document.getElementById("result"), kinds = JSON.parse(document.getElementById("kinds").textContent);
  result.replaceChildren();
  for (const file of files) await showOne(file, kinds, result);
  result.focus();
}

function begin() {
  document.getElementById("off").hidden = true;
  if (!globalThis.crypto || !crypto.subtle) {
    document.getElementById("unable").hidden = false;
    document.getElementById("hand").open = true;
    return;
  }
  const drop = document.getElementById("drop"), input = drop.querySelector("input");
  drop.hidden = false;
  input.addEventListener("change", () => show(input.files));
  document.addEventListener("dragover", (event) => event.preventDefault());
  document.addEventListener("drop", (event) => {
    event.preventDefault();
    if (event.dataTransfer.files.length) show(event.dataTransfer.files);
  });
}

if (typeof document !== "undefined" && document.getElementById("drop")) begin();
