"use strict";
// The bench page: keys big enough for a finger, and a size of letters that gives 80 by 24.
// The library's script draws the terminal and opens the line; it begins when this lets it.

const SENDS = {
  Enter: "\r", Backspace: "\x7f", Escape: "\x1b", Up: "\x1b[A", Down: "\x1b[B",
  PageDown: "\x1b[6~", F1: "\x1bOP", F2: "\x1bOQ", F3: "\x1bOR", F7: "\x1b[18~",
};
const FULL = 4001;
const COLUMNS = 80;
const ROWS = 24;
const SMALLEST = 9;
const LARGEST = 22;
const HIGH = 1.35; // a line to a letter's size, with some room
const FONT = "'Roboto Mono', Monaco, 'Courier New', monospace"; // as the library's script has it

const terminal = document.getElementById("terminal");
const letters = document.getElementById("letters");
let line = null;

// The library keeps its line to itself; the keys need it too.
window.WebSocket = class extends window.WebSocket {
  constructor(...given) {
    super(...given);
    line = this;
    this.addEventListener("close", (event) => ended(event.code));
  }
  send(data) {
    // The library sends the size once more when the line is open.
    if (this.readyState === this.OPEN) super.send(data);
  }
};

function ended(code) {
  document.getElementById("cover-words").textContent =
    code === FULL
      ? "All places are taken. Close the bench on another device, then open it here again."
      : "The bench is closed here. Everything answered is kept.";
  document.getElementById("anew").hidden = false;
  document.body.classList.add("ended");
}

// What is typed goes to the program; so does a key of the page.
function send(text) {
  if (line) line.send(JSON.stringify(["stdin", text]));
}

// The largest letters with which 80 by 24 fits now, and 80 across when the tablet is turned.
// The library draws each letter on a whole number of the device's own dots.
function size() {
  const pen = document.createElement("canvas").getContext("2d");
  pen.font = `100px ${FONT}`;
  const across = pen.measureText("0").width / 100;
  const dots = window.devicePixelRatio || 1;
  const { width, height } = terminal.getBoundingClientRect();
  const widths = [width];
  if (matchMedia("(pointer: coarse)").matches) widths.push(screen.width, screen.height);
  const fits = (letter) =>
    COLUMNS * Math.floor(across * letter * dots) <= Math.min(...widths) * dots &&
    ROWS * HIGH * letter <= height;
  let letter = LARGEST;
  while (letter > SMALLEST && !fits(letter)) letter -= 1;
  return letter;
}

// Without letters wanted, a touch of the screen brings up no keyboard.
function field() {
  const found = terminal.querySelector("textarea");
  if (!found) return null;
  const wanted = letters.getAttribute("aria-pressed") === "true";
  found.setAttribute("inputmode", wanted ? "text" : "none");
  found.setAttribute("autocapitalize", "off");
  return found;
}

letters.addEventListener("click", () => {
  const wanted = letters.getAttribute("aria-pressed") !== "true";
  letters.setAttribute("aria-pressed", String(wanted));
  const found = field();
  if (!found) return;
  found.blur();
  if (wanted) found.focus();
});

for (const key of document.querySelectorAll("#keys button")) {
  key.tabIndex = -1; // the terminal's own keyboard stays with the terminal
  key.addEventListener("mousedown", (event) => event.preventDefault());
  if (key.dataset.key) {
    key.addEventListener("click", () => send(SENDS[key.dataset.key] || key.dataset.key));
  }
}

document.getElementById("anew").addEventListener("click", () => location.reload());

const begin = window.onload;
window.onload = null;

async function start() {
  const late = new Promise((resolve) => setTimeout(resolve, 3000));
  await Promise.race([document.fonts.load(`16px ${FONT}`).catch(() => null), late]);
  terminal.dataset.fontSize = String(size());
  terminal.dataset.sessionWebsocketUrl = `ws://${location.host}/ws`;
  begin.call(window, new Event("load"));
  const found = field();
  if (found) found.focus();
}

start();
