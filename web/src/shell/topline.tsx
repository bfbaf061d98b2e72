import { useLocation } from "preact-iso";
import { person, type Role, roles } from "../api/session";
import { shared } from "../i18n/shared/words";
import { KeyHelpButton } from "../keyboard/key-help";
import { phone } from "../phonekey/phone";
import { Button, LinkButton } from "../ui/button";
import { homes } from "./areas";
import type { PageEntry } from "./page-list";
import { LanguageSwitch, ThemeSwitch } from "./switches";

/** SkipLink leads the keyboard past the top line. */
export function SkipLink() {
  return (
    <a class="skip" href="#main">
      {shared().skip}
    </a>
  );
}

/** TopLine stands on paper above every page: the name, where one can go, and the few settings. */
export function TopLine({ pages }: { pages: readonly PageEntry[] }) {
  const words = shared();
  return (
    <header class="topline">
      <a class="wordmark" href="/">
        <WordMark />
        {words.name}
      </a>
      {person.value && <Navigation pages={pages} />}
      <details class="menu">
        <summary>{person.value?.name ?? words.menu}</summary>
        <div class="menu-body">
          <LanguageSwitch />
          <ThemeSwitch />
          <KeyHelpButton />
          {person.value && <SignOut />}
        </div>
      </details>
    </header>
  );
}

// Signing out empties a phone, so it says first what that costs.
function SignOut() {
  const words = shared();
  if (phone.value === "open") return <LinkButton href="/leave">{words.signOut}</LinkButton>;
  const out = () => void import("../lock/leave").then((m) => m.signOutHere());
  return <Button onClick={out}>{words.signOut}</Button>;
}

function Navigation({ pages }: { pages: readonly PageEntry[] }) {
  const { path } = useLocation();
  const words = shared();
  const here = (href: string) => (path === href ? ("page" as const) : undefined);
  return (
    <nav aria-label={words.main}>
      <ul>
        {pages
          .filter((p) => p.nav)
          .map((p) => (
            <li key={p.path}>
              <a href={p.path} aria-current={here(p.path)}>
                {p.nav?.()}
              </a>
            </li>
          ))}
        {otherAreas(pages).map((role) => (
          <li key={role} class="other-area">
            <a href={homes[role].base}>{words.areas[role]}</a>
          </li>
        ))}
      </ul>
    </nav>
  );
}

// Where else a person may go: a manager also keeps the office.
function otherAreas(pages: readonly PageEntry[]): Role[] {
  const named = (base: string) => pages.some((p) => p.path === base);
  if (pages.length === 0) return [];
  return (Object.keys(homes) as Role[]).filter((role) => {
    const { base, roles: open } = homes[role];
    return !named(base) && open.some((r) => roles.value.includes(r));
  });
}

// A leaning peg on a line: our own drawing, as in public/icon.svg.
function WordMark() {
  return (
    <svg viewBox="0 0 24 24" width="24" height="24" aria-hidden="true">
      <path d="M2 19h20" stroke="currentColor" stroke-width="1.6" />
      <path d="M10 5a2 2 0 0 1 4 0v12l-2 5-2-5z" transform="rotate(14 12 20)" fill="var(--palm)" />
    </svg>
  );
}
