import { fireEvent, render, screen, within } from "@testing-library/preact";
import { LocationProvider } from "preact-iso";
import { beforeEach, expect, it } from "vitest";
import { language } from "../i18n/language";
import { match } from "../shell/page-list";
import { accessible } from "../testing/axe";
import { fakeServer, problem, type Told } from "../testing/server";
import { pages } from "./pages";
import { certificateWords } from "./words";

const api = "GET /api/certificates/ABCD-EFGH-JKMN-PQRS";
const good = {
  code: "ABCD-EFGH-JKMN-PQRS",
  valid: true,
  name: "Eposi Njoh",
  on: "2026-03-12",
  issued_on: "2026-02-10",
  modules: [
    { name: "Moving safely", passed_on: "2026-02-01", until: "2026-07-31", valid: true },
    { name: "Feeding", passed_on: "2025-04-01", until: "2026-03-31", valid: true },
  ],
};
const lapsed = {
  ...good,
  valid: false,
  modules: [{ name: "Moving safely", passed_on: "2025-02-01", until: "2025-07-31", valid: false }],
};

beforeEach(async () => {
  language.value = "en";
  await Promise.all([certificateWords.load("en"), certificateWords.load("fr")]);
});

function show(path: string, told: Record<string, Told> = {}) {
  const server = fakeServer(told);
  window.history.replaceState(null, "", path);
  const page = pages.find((p) => match(p.path, path));
  if (!page) throw new Error(`no page at ${path}`);
  const { view: View } = page;
  const params = match(page.path, path) ?? {};
  return {
    server,
    ...render(
      <LocationProvider>
        <View params={params} />
      </LocationProvider>,
    ),
  };
}

const plain = (element: Element) => (element.textContent ?? "").replace(/[\u00a0\u202f]/g, " ");

it("tells a stranger that a certificate is valid, whose it is, and until when", async () => {
  const { container, server } = show("/certificates/ABCD-EFGH-JKMN-PQRS", { [api]: good });
  const worth = await screen.findByText("Every module on it is valid on 12 Mar 2026.");
  expect(plain(worth.closest("[role=status]") as Element)).toContain("Valid");
  expect(plain(container)).toContain("NameEposi NjohCodeABCD-EFGH-JKMN-PQRSIssued on10 Feb 2026");
  const row = within(screen.getByRole("table")).getByRole("row", { name: /Moving safely/ });
  expect(plain(row)).toBe("Moving safelyvalid1 Feb 202631 Jul 2026");
  const [request] = server.asked(api);
  expect(request?.headers.Authorization, "it goes without a token").toBeUndefined();
  expect(request?.query.get("lang")).toBe("en");
  await accessible(container);
});

it("tells in French that a certificate is not valid any more, and which module", async () => {
  language.value = "fr";
  const { container } = show("/certificates/ABCD-EFGH-JKMN-PQRS", { [api]: lapsed });
  expect(await screen.findByText("Pas valable")).toBeTruthy();
  expect(plain(screen.getByRole("row", { name: /Moving safely/ }))).toContain("n’est plus valable");
  await accessible(container);
});

it("says of a wrong code that nothing has it, and keeps it to be corrected", async () => {
  const { container } = show("/certificates/ABCD-EFGH-JKMN-PQRS", {
    [api]: problem(404, "certificate-not-found"),
  });
  expect((await screen.findByRole("alert")).textContent).toContain("No certificate has this code.");
  const field = screen.getByLabelText("Code of the certificate") as HTMLInputElement;
  expect(field.value).toBe("ABCD-EFGH-JKMN-PQRS");
  expect(
    screen.queryByRole("button", { name: "Try again" }),
    "the same code gets the same answer",
  ).toBeNull();
  await accessible(container);
});

it("asks again when there was no network", async () => {
  const { server } = show("/certificates/ABCD-EFGH-JKMN-PQRS");
  expect((await screen.findByRole("alert")).textContent).toContain("No answer came back.");
  server.on(api, good);
  fireEvent.click(screen.getByRole("button", { name: "Try again" }));
  expect(await screen.findByText("Valid")).toBeTruthy();
});

it("takes a code that is typed, and asks for one that is not", async () => {
  const { container } = show("/certificates");
  fireEvent.submit(container.querySelector("form") as HTMLFormElement);
  expect(await screen.findByText("Type the code that stands on the certificate.")).toBeTruthy();
  await accessible(container);
  fireEvent.input(screen.getByLabelText("Code of the certificate"), {
    target: { value: " abcd efgh jkmn pqrs " },
  });
  fireEvent.submit(container.querySelector("form") as HTMLFormElement);
  expect(location.pathname).toBe("/certificates/abcd%20efgh%20jkmn%20pqrs");
});
