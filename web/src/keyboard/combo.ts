/** What a key press says of itself; a KeyboardEvent has these. */
export type Press = Pick<KeyboardEvent, "key" | "ctrlKey" | "altKey" | "metaKey" | "shiftKey">;

const modifiers = ["Control", "Shift", "Alt", "AltGraph", "Meta", "Dead", "Unidentified", "Process"];

/**
 * comboOf writes a press as one text: "F2", "Ctrl+Shift+k", "/". Shift is
 * named only beside letters and named keys, for in "?" it is already counted.
 * "" is a press of a modifier alone.
 */
export function comboOf({ key, ctrlKey, altKey, metaKey, shiftKey }: Press): string {
  if (modifiers.includes(key)) return "";
  const single = key.length === 1;
  const letter = single && key.toLowerCase() !== key.toUpperCase();
  return [
    ctrlKey && "Ctrl",
    metaKey && "Meta",
    altKey && "Alt",
    shiftKey && (!single || letter) && "Shift",
    key === " " ? "Space" : letter ? key.toLowerCase() : key,
  ]
    .filter(Boolean)
    .join("+");
}

/** isSingle says whether a combo is one character without Ctrl, Alt or Meta: such keys can be switched off (WCAG 2.1.4). */
export function isSingle(combo: string): boolean {
  return !/(Ctrl|Meta|Alt)\+/.test(combo) && combo.replace("Shift+", "").length === 1;
}

const browsers = [
  "Tab",
  "Shift+Tab",
  "Enter",
  "Space",
  "Escape",
  "F5",
  "Ctrl+t",
  "Ctrl+w",
  "Ctrl+n",
  "Ctrl+r",
];

/** isReserved says whether a combo belongs to the browser or to moving about. */
export function isReserved(combo: string): boolean {
  return browsers.includes(combo);
}

/** spoken writes a combo for people: capitals for letters. */
export function spoken(combo: string): string {
  return combo
    .split("+")
    .map((part) => (part.length === 1 ? part.toUpperCase() : part))
    .join(" + ");
}
