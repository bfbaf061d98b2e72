import type { ComponentChildren } from "preact";
import { useLocation } from "preact-iso";
import { useCommand } from "../../keyboard/commands";
import { Page } from "../../shell/page";
import "./desk.css";
import { FindField } from "./find/find-field";
import { useFirm } from "./firm";
import { deskWords } from "./words";

/** DeskPage is the frame of every page at the desk: the field that finds a farm stands beside the heading, and its keys work everywhere. */
export function DeskPage({
  title,
  aside,
  children,
}: {
  title: string;
  aside?: ComponentChildren;
  children: ComponentChildren;
}) {
  useFirm();
  const { route } = useLocation();
  const keys = deskWords().keys;
  useCommand({ id: "desk.tickets", combo: "q", label: () => keys.tickets }, () => route("/desk"));
  useCommand({ id: "desk.promises", combo: "p", label: () => keys.promises }, () => route("/desk/promises"));
  useCommand({ id: "desk.call", combo: "F4", label: () => keys.call }, () => route("/desk/call"));
  return (
    <div class="desk">
      <Page
        title={title}
        aside={
          <>
            {aside}
            <FindField />
          </>
        }
      >
        {children}
      </Page>
    </div>
  );
}
