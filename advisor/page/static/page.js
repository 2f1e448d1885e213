/* Small conveniences. Every answer is reached without this file; it only saves steps and keeps what was typed. */
"use strict";
(() => {
  const $ = (what, within = document) => within.querySelector(what);
  const $$ = (what, within = document) => [...within.querySelectorAll(what)];
  const stopped = $("#stopped");

  $$("[data-needs-script]").forEach((part) => { part.hidden = false; });

  /* ---- the server may stop: nothing typed is lost ---- */
  const tell = (gone) => { if (stopped) stopped.hidden = !gone; };
  const alive = () => fetch("/alive", { cache: "no-store" }).then((r) => r.ok, () => false);
  document.addEventListener("htmx:error", () => alive().then((yes) => tell(!yes)));
  document.addEventListener("htmx:after:request", () => tell(false));
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (event.defaultPrevented || form.dataset.sure === "yes") return;
    event.preventDefault();
    const large = $("#toolarge"), most = Number(large.dataset.most);
    large.hidden = !$$("input[type=file]", form).some((input) => [...input.files].some((file) => file.size > most));
    if (!large.hidden) { large.scrollIntoView({ block: "center" }); return; }
    const button = event.submitter;
    alive().then((yes) => {
      tell(!yes);
      if (!yes) { stopped.scrollIntoView({ block: "center" }); return; }
      form.dataset.sure = "yes";
      form.requestSubmit(button || undefined);
      setTimeout(() => { delete form.dataset.sure; }, 1500);
    });
  });

  /* Drafts: a form that is left by accident, or whose page is loaded anew, finds its words again. */
  const fields = (form) => $$("input:not([type=file]):not([type=hidden]):not([type=checkbox]):not([type=radio]), textarea, select", form).filter((f) => f.name);
  $$("form[data-draft]").forEach((form) => {
    const key = "draft " + location.pathname;
    try {
      const kept = JSON.parse(sessionStorage.getItem(key) || "{}");
      fields(form).forEach((f) => { if (!f.value && kept[f.name]) f.value = kept[f.name]; });
      form.addEventListener("input", () => {
        sessionStorage.setItem(key, JSON.stringify(Object.fromEntries(fields(form).map((f) => [f.name, f.value]))));
      });
    } catch { /* no storage: nothing to keep in */ }
  });
  if ($("[data-done]")) {
    try { $$("[data-done]").forEach((d) => sessionStorage.removeItem("draft " + d.dataset.done)); } catch { /* as above */ }
  }

  /* ---- type-ahead: a list under the box, by mouse, touch or arrow keys ---- */
  $$("[data-suggest]").forEach((box) => {
    const list = $("#suggestions");
    let at = -1, wait = 0, asked = 0;
    box.setAttribute("role", "combobox");
    box.setAttribute("aria-autocomplete", "list");
    box.setAttribute("aria-controls", "suggestions");
    box.setAttribute("aria-expanded", "false");
    const close = () => { list.hidden = true; at = -1; box.setAttribute("aria-expanded", "false"); box.removeAttribute("aria-activedescendant"); };
    const grow = () => { box.rows = 2; const line = parseFloat(getComputedStyle(box).lineHeight) || 27; box.rows = Math.min(6, Math.max(2, Math.floor((box.scrollHeight - 16) / line))); };
    const mark = (next) => {
      const all = $$("[role=option]", list);
      if (!all.length) return;
      clearTimeout(wait);
      asked++; /* a list that is still on its way would take the choice from under the key */
      at = (next + all.length) % all.length;
      all.forEach((o, i) => o.setAttribute("aria-selected", i === at ? "true" : "false"));
      all[at].scrollIntoView({ block: "nearest" });
      box.setAttribute("aria-activedescendant", all[at].id);
    };
    const take = (option) => {
      box.value = option.dataset.box;
      close();
      box.focus();
      box.dispatchEvent(new Event("change", { bubbles: true }));
    };
    box.addEventListener("input", () => {
      clearTimeout(wait);
      grow();
      wait = setTimeout(() => {
        const mine = ++asked;
        fetch("/suggest?ask=" + encodeURIComponent(box.value.slice(0, box.selectionEnd)))
          .then((r) => (r.ok ? r.text() : ""))
          .then((text) => {
            if (mine !== asked || document.activeElement !== box) return;
            list.innerHTML = text; /* the server's own template, every name escaped there */
            const any = $("[role=option]", list);
            list.hidden = !any;
            at = -1;
            box.setAttribute("aria-expanded", any ? "true" : "false");
            box.removeAttribute("aria-activedescendant");
          }, () => close());
      }, 90);
    });
    box.addEventListener("keydown", (event) => {
      if ((event.key === "ArrowDown" || (event.key === "ArrowRight" && at >= 0)) && !list.hidden) { mark(at + 1); event.preventDefault(); }
      else if ((event.key === "ArrowUp" || (event.key === "ArrowLeft" && at >= 0)) && !list.hidden) { mark(at - 1); event.preventDefault(); }
      else if (event.key === "Escape") close();
      else if (event.key === "Enter" && !event.shiftKey) {
        event.preventDefault();
        const option = $$("[role=option]", list)[at];
        if (!list.hidden && option) take(option);
        else { asked++; close(); box.form.requestSubmit(); }
      }
    });
    list.addEventListener("mousedown", (event) => event.preventDefault());
    list.addEventListener("click", (event) => { const o = event.target.closest("[role=option]"); if (o) take(o); });
    /* The list stands in the page and covers nothing, so it stays when the box is left: no button moves under a finger. */
    grow();
  });

  /* The tabs carry the question on, and the answer in place. */
  $$(".tabs button[data-sheet]").forEach((button) => button.addEventListener("click", () => {
    const form = button.form;
    if (form) form.dataset.sure = "yes"; /* a link to another answer: nothing to lose */
  }));

  /* ---- pictures: find, and count what is ticked ---- */
  $$("[data-filter]").forEach((input) => {
    const picker = input.closest(".picker");
    input.addEventListener("input", (event) => {
      event.stopPropagation();
      const said = input.value.trim().toLowerCase();
      $$(".group", picker).forEach((group) => {
        let any = false;
        $$(".tile", group).forEach((tile) => {
          const shown = !said || tile.dataset.names.includes(said);
          tile.hidden = !shown;
          any = any || shown;
        });
        group.hidden = !any;
        if (said) group.open = any;
      });
    });
    input.addEventListener("change", (event) => event.stopPropagation());
    input.addEventListener("keydown", (event) => { if (event.key === "Enter") event.preventDefault(); });
  });
  $$(".picker").forEach((picker) => picker.addEventListener("change", () => {
    const count = $$("input[type=checkbox]:checked", picker).length;
    let badge = $(":scope > summary > .count", picker);
    if (!badge) { badge = document.createElement("span"); badge.className = "count"; $(":scope > summary", picker).append(" ", badge); }
    badge.textContent = count ? count + " ticked" : "";
  }));

  /* ---- the timer of a test ---- */
  $$("[data-timer]").forEach((timer) => {
    const face = $(".face", timer), start = $("[data-start]", timer), reset = $("[data-reset]", timer), says = $("[role=status]", timer);
    const whole = Number(timer.dataset.timer);
    let left = whole, ticking = 0, end = 0;
    const show = () => { face.textContent = Math.floor(left / 60) + ":" + String(Math.floor(left % 60)).padStart(2, "0"); };
    const stop = () => { clearInterval(ticking); ticking = 0; start.textContent = left ? "Go on" : "Again"; };
    const tick = () => {
      left = Math.max(0, (end - Date.now()) / 1000);
      show();
      if (!left) { stop(); says.textContent = "Time is up."; timer.classList.add("up"); if (navigator.vibrate) navigator.vibrate([300, 100, 300]); }
    };
    start.addEventListener("click", () => {
      if (ticking) { stop(); says.textContent = "Stopped."; return; }
      if (!left) left = whole;
      timer.classList.remove("up");
      end = Date.now() + left * 1000;
      ticking = setInterval(tick, 250);
      start.textContent = "Stop";
      says.textContent = "Running.";
    });
    reset.addEventListener("click", () => { stop(); left = whole; show(); start.textContent = "Start"; says.textContent = ""; timer.classList.remove("up"); });
    show();
  });

  /* ---- printing ---- */
  $$("[data-print]").forEach((button) => button.addEventListener("click", () => window.print()));
})();
