// The built app as the program serves it, before anybody signs in: the ways
// in, the headers, the service worker, and life without a network.
import { axe, check, language, must, open, shot } from "./harness.mjs";

export async function shell(base) {
  await check("shell: the sign-in page is accessible in both languages and sizes", async () => {
    for (const size of ["desk", "phone"]) {
      const { page, context, troubles } = await open(size);
      await page.goto(base);
      await page.waitForURL("**/signin");
      await page.getByRole("heading", { name: "Sign in" }).waitFor();
      await axe(page, `sign-in ${size}`);
      await language(page, "Français");
      await page.getByRole("heading", { name: "Se connecter" }).waitFor();
      must((await page.getAttribute("html", "lang")) === "fr", "lang does not follow");
      await axe(page, `sign-in ${size} fr`);
      await shot(page, `signin-${size}-fr`);
      // A refresh without a session is answered 401, which browsers log.
      const real = troubles.filter((t) => !/status of 40[14]/.test(t));
      must(real.length === 0, real.join("\n"));
      await context.close();
    }
  });

  await check("shell: a wrong password is explained, not blamed", async () => {
    const { page, context } = await open("desk");
    await page.goto(`${base}/signin`);
    await page.getByLabel("E-mail or phone").fill("nobody@example.invalid");
    await page.getByLabel("Password", { exact: true }).fill("four words that fail");
    await page.getByRole("button", { name: "Sign in" }).click();
    await page.getByRole("alert").waitFor();
    await axe(page, "sign-in with trouble");
    await context.close();
  });

  await check("shell: a page of a role asks for a sign-in and remembers where to", async () => {
    const { page, context } = await open("desk");
    await page.goto(`${base}/farms/0192`);
    await page.waitForURL("**/signin?to=%2Ffarms%2F0192");
    await context.close();
  });

  await check("shell: unknown files are 404, unknown pages are explained", async () => {
    const { page, context } = await open("desk");
    must(
      (await page.request.get(`${base}/assets/gone-1234.js`)).status() === 404,
      "a missing script must be 404",
    );
    await page.goto(`${base}/no/such/page`);
    await page.getByRole("heading", { name: "Nothing at this address" }).waitFor();
    await context.close();
  });

  await check("shell: policy forbids inline scripts and other hosts", async () => {
    const { page, context } = await open("desk", { bypassCSP: false });
    const answer = await page.goto(base);
    const policy = answer.headers()["content-security-policy"] ?? "";
    must(policy.includes("default-src 'self'") && !policy.includes("unsafe"), policy);
    await page.getByRole("heading", { level: 1 }).waitFor();
    await context.close();
  });

  await check("shell: after one visit the app opens without a network", async () => {
    const { page, context } = await open("phone");
    await page.goto(base);
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.reload();
    await page.waitForFunction(() => navigator.serviceWorker.controller !== null);
    await context.setOffline(true);
    await page.goto(`${base}/today`);
    await page.getByRole("heading", { level: 1 }).waitFor();
    await shot(page, "offline-phone");
    await context.close();
  });
}
