// Looks at a drawn form while somebody types: asks the service for the same page with what is typed so far, and takes
// from it the picture, what it comes to, what a fold holds, and what a list has filled in. Without it the sign does the
// same. What was typed meanwhile is never touched.
(() => {
  "use strict";
  const form = document.querySelector("form[data-drawn]");
  const comes = document.getElementById("comes");
  const MEASURED = /^(dimensions|pick)\./;
  const TAKEN = /^(dimensions|pick|was)\./;
  const REST = 350; // milliseconds without a key, so that a length is asked about once
  if (!form || !comes || !window.fetch || !window.DOMParser) return;
  let timer = 0;
  let newest = 0;

  form.addEventListener("input", (event) => {
    if (!MEASURED.test(event.target.name || "")) return;
    clearTimeout(timer);
    comes.classList.add("old");
    timer = setTimeout(look, event.target.tagName === "SELECT" ? 0 : REST);
  });

  async function look() {
    const number = ++newest;
    const sent = new URLSearchParams(new FormData(form));
    sent.set("step", "draw");
    let page;
    try {
      const answer = await fetch(location.pathname + location.search, {
        method: "POST", body: sent, credentials: "same-origin", redirect: "error",
      });
      if (!answer.ok) return; // signed out, or closed meanwhile: the next press says so
      page = new DOMParser().parseFromString(await answer.text(), "text/html");
    } catch (error) {
      return; // no network: what stands there stays marked as old
    }
    if (number === newest) take(page, sent);
  }

  function take(page, sent) {
    const drawn = page.querySelector("form[data-drawn]");
    const picture = page.querySelector("#sketch > svg");
    const here = document.querySelector("#sketch > svg");
    const told = page.getElementById("comes");
    if (!drawn || !picture || !here || !told) return;
    here.replaceWith(document.importNode(picture, true));
    comes.replaceChildren(...Array.from(told.childNodes, (node) => document.importNode(node, true)));
    comes.classList.remove("old");
    const sum = document.getElementById("sum");
    const toldSum = page.getElementById("sum");
    if (sum && toldSum) {
      sum.textContent = toldSum.textContent;
      sum.parentElement.hidden = !sum.textContent;
    }
    for (const fold of drawn.querySelectorAll("details.fold")) {
      const mine = document.querySelector(`#${fold.id} > summary .quiet`);
      if (mine) mine.textContent = fold.querySelector("summary .quiet").textContent;
    }
    fill(drawn, sent);
  }

  function fill(drawn, sent) {
    for (const one of Array.from(form.elements)) {
      if (/^was\./.test(one.name || "") && !drawn.elements.namedItem(one.name)) one.remove();
    }
    for (const one of Array.from(drawn.elements)) {
      if (!TAKEN.test(one.name || "")) continue;
      const mine = form.elements.namedItem(one.name);
      if (!mine) {
        if (one.type === "hidden") form.append(document.importNode(one, true));
      } else if (mine.value === (sent.get(one.name) || "") && mine.value !== one.value) {
        mine.value = one.value;
      }
    }
  }
})();
