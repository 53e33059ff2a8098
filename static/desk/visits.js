/* The phase that is picked sets its first day, all of it; without a phase, who comes and to do what is asked at once. A day
   that is typed stays until another phase is picked. Without this script an empty day means the same. */
"use strict";

(() => {
  const phase = document.querySelector("select[name=phase]");
  const form = phase && phase.form;
  if (!form) return;
  const days = new Map([...document.querySelectorAll("#first-days li")].map((one) => [one.dataset.phase, one.dataset.day]));

  function follow(picked) {
    const { day, hours } = form.elements;
    if (picked) [day.value, hours.value] = [days.get(phase.value) || day.value, "whole"];
    if (!phase.value) form.querySelector("details:has([name=crew])").open = true;
  }

  phase.addEventListener("change", () => follow(true));
  follow(!form.elements.day.value && !form.elements.starts_at.value);
})();
