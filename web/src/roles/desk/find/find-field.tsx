import { useEffect, useId, useRef, useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { explain } from "../../../api/explain";
import type { Standing as StandingName } from "../../../farm/words";
import { spoken } from "../../../keyboard/combo";
import { type Command, comboFor, useCommand } from "../../../keyboard/commands";
import { Standing } from "../../../marks/marks";
import type { Hit } from "../server";
import { deskWords } from "../words";
import { addressOf, looksLikePhone, sure } from "./hits";
import { type Found, useSearch } from "./search";

const find: Command = { id: "desk.find", combo: "F2", label: () => deskWords().keys.find };

/** An Option of the list: something found, or a call from a number that nobody knows. */
interface Option {
  key: string;
  href: string;
  hit?: Hit;
  text?: string;
}

/**
 * FindField finds a farm in one run of keys: F2, a few letters or digits,
 * Enter. Enter does not wait for the list to be looked at where all that was
 * found is one farm; otherwise it stops at the list.
 */
export function FindField() {
  const [text, setText] = useState("");
  const [open, setOpen] = useState(false);
  const [cursor, setCursor] = useState<{ of: Found | null; at: number }>({ of: null, at: 0 });
  const [hurry, setHurry] = useState(false);
  const found = useSearch(text);
  const input = useRef<HTMLInputElement>(null);
  const { route, path } = useLocation();
  const id = useId();
  const words = deskWords().find;
  useCommand(find, () => {
    input.current?.focus();
    input.current?.select();
  });

  // Each answer starts at its first line.
  const at = cursor.of === found ? cursor.at : 0;
  const fresh = found?.for === text.trim();
  const options = optionsOf(text, fresh ? found : null, path === "/desk/call");
  const shown = open && text.trim().length > 1;
  const go = (option: Option | undefined) => {
    if (!option) return;
    setText("");
    setOpen(false);
    setHurry(false);
    route(option.href);
  };
  useEffect(() => {
    if (!hurry || !fresh) return;
    setHurry(false);
    if (sure(found?.hits ?? [])) go(options[0]);
  }, [found]);

  const press = (event: KeyboardEvent) => {
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (step && options.length > 0) {
      event.preventDefault();
      setOpen(true);
      setCursor({ of: found, at: (at + step + options.length) % options.length });
    } else if (event.key === "Enter") {
      event.preventDefault();
      if (fresh) go(options[at]);
      else setHurry(true);
    } else if (event.key === "Escape" && shown) {
      event.preventDefault();
      setOpen(false);
    }
  };

  return (
    <search class="find">
      <label for={id}>
        {words.label} <span class="unseen">{words.what}</span> <kbd>{spoken(comboFor(find))}</kbd>
      </label>
      <div class="find-box">
        <input
          ref={input}
          id={id}
          type="text"
          role="combobox"
          autoComplete="off"
          spellcheck={false}
          maxLength={200}
          placeholder={words.hint}
          aria-expanded={shown}
          aria-controls={`${id}-list`}
          aria-autocomplete="list"
          aria-activedescendant={shown && options[at] ? `${id}-${at}` : undefined}
          value={text}
          onInput={(event) => {
            setText(event.currentTarget.value);
            setOpen(true);
          }}
          onKeyDown={press}
          onBlur={() => setOpen(false)}
        />
        <div class="find-drop">
          <div class="find-news" role="status">
            {shown ? told(text, fresh ? found : null) : ""}
          </div>
          <div class="find-list" role="listbox" id={`${id}-list`} aria-label={words.results} hidden={!shown}>
            {options.map((option, i) => (
              // biome-ignore lint/a11y/useKeyWithClickEvents: the field hears the keys
              // biome-ignore lint/a11y/useFocusableInteractive: as above
              <div
                key={option.key}
                id={`${id}-${i}`}
                role="option"
                aria-selected={i === at}
                class="find-option"
                onMouseDown={(event) => event.preventDefault()}
                onClick={() => go(option)}
              >
                {option.hit ? <HitLine hit={option.hit} /> : option.text}
              </div>
            ))}
          </div>
        </div>
      </div>
    </search>
  );
}

function HitLine({ hit }: { hit: Hit }) {
  const words = deskWords().find;
  const what = words.kinds[hit.kind] ?? hit.kind;
  const place = [
    hit.kind !== "farm" && (hit.farm || words.noFarm),
    hit.town,
    hit.kind !== "client" && hit.client,
  ];
  return (
    <>
      <strong>{hit.label}</strong>
      <span class="find-kind">{what}</span>
      <span>{place.filter(Boolean).join(", ")}</span>
      {hit.phone && <span>{hit.phone}</span>}
      {hit.language && <span>{deskWords().brief.speaks[hit.language]}</span>}
      {hit.standing && <Standing standing={hit.standing as StandingName} />}
      <span class="find-by">{words.by[hit.why] ?? ""}</span>
    </>
  );
}

function optionsOf(text: string, found: Found | null, carry: boolean): Option[] {
  if (!found) return [];
  const options: Option[] = found.hits.map((hit) => ({
    key: `${hit.kind} ${hit.id} ${hit.farm_id}`,
    href: addressOf(hit, carry),
    hit,
  }));
  if (options.length > 0 || found.error) return options;
  const [name, words] = [looksLikePhone(text) ? "phone" : "name", deskWords().find];
  const href = `/desk/call?${name}=${encodeURIComponent(text.trim())}`;
  return [{ key: "call", href, text: words.callFrom(text.trim()) }];
}

function told(text: string, found: Found | null): string {
  const words = deskWords().find;
  if (!found) return words.looking;
  if (found.error) return explain(found.error);
  return found.hits.length > 0 ? words.found(found.hits.length) : words.none(text.trim());
}
