import { effect } from "@preact/signals";
import { render } from "preact";
import { person } from "./api/session";
import { App } from "./app";
import { language } from "./i18n/language";
import { startSending } from "./offline/outbox";
import { watchInstall } from "./shell/install";
import { followTheme } from "./shell/preferences";
import { start } from "./shell/start";
import { healStaleFiles, keepRoles, watchForUpdates } from "./shell/update";
import "./style/tokens.css";
import "./style/base.css";
import "./style/form.css";
import "./style/shell.css";
import "./style/print.css";

healStaleFiles();
watchInstall();
followTheme();
document.documentElement.lang = language.peek();

const root = document.getElementById("app");
if (!root) throw new Error("index.html has no #app");
render(<App />, root);
void start();

startSending();
effect(() => {
  if (person.value) keepRoles().catch(() => undefined);
});
window.addEventListener("load", () => void watchForUpdates().catch(() => undefined));
void navigator.storage?.persist?.().catch(() => undefined);
