import { useEffect, useRef, useState } from "preact/hooks";
import { LocationProvider, useLocation } from "preact-iso";
import { person, type Role, roles } from "./api/session";
import { shared } from "./i18n/shared/words";
import { KeyHelp } from "./keyboard/key-help";
import { homes, type Part, partOf, type Reach } from "./shell/areas";
import { Page } from "./shell/page";
import { match, type PageEntry } from "./shell/page-list";
import { SendingLine } from "./shell/sending-line";
import { needsSetUp, started } from "./shell/start";
import { SkipLink, TopLine } from "./shell/topline";
import { UpdateLine } from "./shell/update";
import { Loading, Trouble } from "./ui/states";
import { Toasts } from "./ui/toast";

/** App is the whole of it: the top line, the page that the address names, and the line of sending. */
export function App() {
  return (
    <LocationProvider>
      <Shell />
    </LocationProvider>
  );
}

function Shell() {
  const { path } = useLocation();
  const part = partOf(path);
  const [pages, error] = usePages(part);
  const role = roles.value[0];
  const named = useNamed(part, pages, role);
  const reach = part?.reach ?? reachOf(role);
  useEffect(() => {
    document.documentElement.dataset.reach = reach;
  }, [reach]);
  return (
    <div class="shell">
      <SkipLink />
      <TopLine pages={named} />
      <main id="main" tabIndex={-1}>
        <UpdateLine />
        <Content path={path} part={part} pages={pages} error={error} />
      </main>
      <SendingLine always={reach === "phone" && person.value !== null} />
      <Toasts />
      <KeyHelp />
    </div>
  );
}

// What stands on the top line: the names of the part, of the person's own part
// where it has none (a farm), and of the last part while the next is brought.
function useNamed(
  part: Part | undefined,
  pages: readonly PageEntry[] | null,
  role: Role | undefined,
): readonly PageEntry[] {
  const bare = pages !== null && !pages.some((p) => p.nav);
  const lent = bare && part && part.roles.length > 0 && role ? homes[role] : undefined;
  const [own] = usePages(lent);
  const last = useRef<readonly PageEntry[]>([]);
  const now = lent ? own : pages;
  if (now) last.current = now;
  return last.current;
}

function reachOf(role: Role | undefined): Reach {
  return (role && homes[role].reach) ?? "desk";
}

interface Wanted {
  path: string;
  part: Part | undefined;
  pages: readonly PageEntry[] | null;
  error: unknown;
}

function Content({ path, part, pages, error }: Wanted) {
  if (path === "/") return <Start />;
  if (!part) return <NotFound />;
  if (part.roles.length > 0 && !person.value) {
    return started.value ? <Go to={`/signin?to=${encodeURIComponent(path)}`} /> : <Loading />;
  }
  if (part.roles.length > 0 && !part.roles.some((r) => roles.value.includes(r))) return <NotYours />;
  if (error) return <Trouble error={error} retry={() => location.reload()} />;
  if (!pages) return <Loading />;
  for (const page of pages) {
    const params = match(page.path, path);
    if (params) return <page.view params={params} key={path} />;
  }
  return <NotFound />;
}

function usePages(part: Part | undefined): [readonly PageEntry[] | null, unknown] {
  const [found, setFound] = useState<{ part: Part; pages?: readonly PageEntry[]; error?: unknown }>();
  useEffect(() => {
    if (!part) return;
    let wanted = true;
    part.load().then(
      (pages) => wanted && setFound({ part, pages }),
      (error: unknown) => wanted && setFound({ part, error }),
    );
    return () => {
      wanted = false;
    };
  }, [part]);
  return found && found.part === part ? [found.pages ?? null, found.error] : [null, undefined];
}

function Start() {
  const role = roles.value[0];
  if (person.value && role) return <Go to={homes[role].base} />;
  if (!started.value) return <Loading />;
  return <Go to={needsSetUp.value ? "/first-run" : "/signin"} />;
}

function Go({ to }: { to: string }) {
  const { route } = useLocation();
  useEffect(() => route(to, true), [to]);
  return null;
}

function NotFound() {
  const words = shared().notFound;
  return (
    <Page title={words.title}>
      <p>{words.text}</p>
      <a href="/">{words.start}</a>
    </Page>
  );
}

function NotYours() {
  const words = shared().notYours;
  return (
    <Page title={words.title}>
      <p>{words.text}</p>
      <a href="/">{shared().notFound.start}</a>
    </Page>
  );
}
