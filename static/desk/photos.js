/* Photos are made as small as they are kept before they go: a bad line carries half a megabyte sooner than five. What
   this browser can't read goes as it is; what is too large even so is left out, with a sentence at its field. */
"use strict";

(() => {
  const LARGE = 1024 * 1024, MOST = 20 * LARGE, EDGE = 2000;
  const words = document.getElementById("photo-too-large");

  async function made(file) {
    if (file.size <= LARGE || !file.type.startsWith("image/") || !window.createImageBitmap) return file;
    let picture;
    try {
      picture = await createImageBitmap(file);
      const scale = Math.min(1, EDGE / Math.max(picture.width, picture.height));
      const canvas = document.createElement("canvas");
      canvas.width = Math.round(picture.width * scale);
      canvas.height = Math.round(picture.height * scale);
      canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
      const small = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.9));
      return small && small.size < file.size ? new File([small], file.name.replace(/\.\w+$/, ".jpg"), { type: "image/jpeg" }) : file;
    } catch {
      return file;
    } finally {
      if (picture) picture.close();
    }
  }

  async function make(field) {
    const held = new DataTransfer(), left = [];
    for (const file of field.files) {
      const small = await made(file);
      if (small.size > MOST) left.push(file.name);
      else held.items.add(small);
    }
    field.files = held.files;
    say(field, left);
  }

  function say(field, left) {
    const id = `${field.name}-large`;
    document.getElementById(id)?.remove();
    if (!left.length || !words) return;
    const said = document.createElement("p");
    Object.assign(said, { id, className: "hint", role: "alert" });
    said.textContent = `${left.join(", ")}: ${words.textContent}`;
    (field.closest("label") || field).after(said);
  }

  document.addEventListener("change", (event) => {
    const field = event.target;
    if (field.type === "file" && field.files.length) field.making = make(field).catch(() => 0); // keep.js waits for it
  }, true);
})();
