import { useLocation } from "preact-iso";
import { spoken } from "../../keyboard/combo";
import { type Command, comboFor, useCommand } from "../../keyboard/commands";
import { deskWords } from "./words";

/** A View of a list: its name and address, and the key that shows it. */
export interface ViewEntry {
  id: string;
  name: string;
  href: string;
  here: boolean;
}

/** ViewsNav offers the views of a list, with the keys 1, 2, 3 and so on. */
export function ViewsNav({ label, of, views }: { label: string; of: string; views: readonly ViewEntry[] }) {
  return (
    <nav class="views-nav" aria-label={label}>
      <ul>
        {views.map((view, i) => (
          <li key={view.id}>
            <ViewLink view={view} of={of} combo={String(i + 1)} />
          </li>
        ))}
      </ul>
    </nav>
  );
}

function ViewLink({ view, of, combo }: { view: ViewEntry; of: string; combo: string }) {
  const { route } = useLocation();
  const command: Command = {
    id: `desk.${of}.${view.id}`,
    combo,
    label: () => deskWords().keys.view(view.name),
  };
  useCommand(command, () => route(view.href));
  return (
    <a href={view.href} aria-current={view.here ? "page" : undefined}>
      {view.name} <kbd>{spoken(comboFor(command))}</kbd>
    </a>
  );
}
