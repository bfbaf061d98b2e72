import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { shared } from "../i18n/shared/words";

let shownBefore = false;

/**
 * Page is the frame of every page: it names the document, moves the focus to
 * the heading when the person came from another page, and has a way back
 * where `back` says where to.
 */
export function Page({
  title,
  back,
  aside,
  children,
}: {
  title: string;
  back?: string;
  /** What stands beside the heading: a mark, a button. */
  aside?: ComponentChildren;
  children: ComponentChildren;
}) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    document.title = `${title} · ${shared().name}`;
  }, [title]);
  useEffect(() => {
    if (shownBefore) heading.current?.focus();
    shownBefore = true;
  }, []);
  return (
    <article class="page">
      {back && (
        <a class="back" href={back}>
          <span aria-hidden="true">←</span> {shared().back}
        </a>
      )}
      <header class="page-head">
        <h1 ref={heading} tabIndex={-1}>
          {title}
        </h1>
        {aside}
      </header>
      {children}
    </article>
  );
}
