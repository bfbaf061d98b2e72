// A house with invented farms for the browser tests: the program reads the
// registers, sweeps, and lets staff in by a password.
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { startServer } from "../harness.mjs";
import { registers } from "./register.mjs";

const zone = "Africa/Douala";
const password = "seven brown snails walk";

const staff = [
  { key: "administrator", name: "Ruth Fomba", role: "administrator" },
  { key: "manager", name: "Marthe Ndive", role: "manager" },
  { key: "second", name: "Abel Lyonga", role: "manager" },
  { key: "advisor", name: "Ana Besong", role: "advisor" },
  { key: "officer", name: "Tende Ojong", role: "field-officer" },
  { key: "officer2", name: "Solange Mbah", role: "field-officer" },
];

/** openHouse seeds a database in a folder of its own, serves it, and answers who may sign in; `close` ends and removes it. */
export async function openHouse(binary) {
  const folder = mkdtempSync(join(tmpdir(), "tendfold-e2e-"));
  const db = join(folder, "data");
  const run = (...args) =>
    execFileSync(binary, [...args, "--db", db], { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] });
  const { watched, toConfirm } = registers();
  writeFileSync(join(folder, "watched.csv"), watched);
  writeFileSync(join(folder, "to-confirm.csv"), toConfirm);
  const intake = ["--commit", "--zone", zone, "--country", "CM"];
  run("intake", join(folder, "watched.csv"), "--watch", ...intake);
  run("intake", join(folder, "to-confirm.csv"), ...intake);
  run("sweep", "--zone", zone);
  const links = Object.fromEntries(staff.map((one) => [one.key, letIn(run, one)]));
  const server = await startServer(binary, ["serve", "--db", db, "--addr", "127.0.0.1:0", "--zone", zone]);
  const people = {};
  for (const { key, name, role } of staff) {
    people[key] = {
      name,
      role,
      id: links[key].id,
      password,
      ...(await choose(server.base, links[key].secret)),
    };
  }
  return {
    base: server.base,
    people,
    output: server.output,
    close: async () => {
      await server.stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

// An advisor has a number that caretakers call; +999 is not assigned.
function letIn(run, { key, name, role }) {
  const email = `${key}@palmwalk.example`;
  const phone = role === "advisor" ? ["--phone", "+999555000100"] : [];
  const { id } = JSON.parse(run("person", "add", name, "--role", role, "--email", email, ...phone, "--json"));
  const { link } = JSON.parse(run("person", "link", id, "--for", "password", "--json"));
  return { id, secret: link.split("#")[1] };
}

async function choose(base, secret) {
  const answer = await fetch(`${base}/api/way-in/password`, {
    method: "POST",
    headers: { "Content-Type": "application/json", Origin: base },
    body: JSON.stringify({ secret, password }),
  });
  const body = await answer.json();
  if (!answer.ok) throw new Error(`password refused: ${JSON.stringify(body)}`);
  return { login: body.login };
}
