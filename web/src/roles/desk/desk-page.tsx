import type { ComponentChildren } from "preact";
import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import { useLocation } from "preact-iso";
import { shared } from "../../i18n/shared/words";
import { useCommand } from "../../keyboard/commands";
import "./desk.css";
import { OpenCalls } from "./call/open-calls";
import { FindField } from "./find/find-field";
import { useFirm } from "./firm";
import { deskWords } from "./words";

/**
 * DeskPage is the frame of every page at the desk: the field that finds a farm
 * stands beside the heading, and its keys work everywhere. It is not the
 * shell's Page, which gives the focus to the heading a moment after the page
 * came: here the focus must stand at once where one writes (`writes`), or what
 * is typed would meet the keys of the page.
 */
export function DeskPage({
  title,
  writes = false,
  aside,
  children,
}: {
  title: string;
  writes?: boolean;
  aside?: ComponentChildren;
  children: ComponentChildren;
}) {
  useFirm();
  const { route } = useLocation();
  const heading = useRef<HTMLHeadingElement>(null);
  const keys = deskWords().keys;
  useCommand({ id: "desk.tickets", combo: "q", label: () => keys.tickets }, () => route("/desk"));
  useCommand({ id: "desk.promises", combo: "p", label: () => keys.promises }, () => route("/desk/promises"));
  useCommand({ id: "desk.call", combo: "F4", label: () => keys.call }, () => route("/desk/call"));
  useEffect(() => {
    document.title = `${title} · ${shared().name}`;
  }, [title]);
  useLayoutEffect(() => {
    if (!writes) heading.current?.focus();
  }, []);
  return (
    <article class="page desk">
      <header class="page-head">
        <h1 ref={heading} tabIndex={-1}>
          {title}
        </h1>
        {aside}
        <FindField />
      </header>
      <OpenCalls />
      {children}
    </article>
  );
}
