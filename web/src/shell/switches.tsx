import { useId } from "preact/hooks";
import { type Language, language, languages, speak } from "../i18n/language";
import { shared } from "../i18n/shared/words";
import { toast } from "../ui/toast";
import { type Theme, theme } from "./preferences";

/** LanguageSwitch names each language in itself. */
export function LanguageSwitch() {
  const words = shared();
  const choose = (next: Language) => speak(next).catch(() => toast(shared().problems["no-network"] ?? ""));
  return (
    <fieldset class="switch" aria-label={words.language}>
      {languages.map((one) => (
        <button
          key={one}
          type="button"
          lang={one}
          class="button button-quiet"
          aria-pressed={one === language.value}
          onClick={() => choose(one)}
        >
          {words.languages[one]}
        </button>
      ))}
    </fieldset>
  );
}

/** ThemeSwitch chooses light or dark, or leaves it to the device. */
export function ThemeSwitch() {
  const words = shared().theme;
  const id = useId();
  return (
    <span class="switch">
      <label for={id}>{words.label}</label>
      <select id={id} value={theme.value} onChange={(e) => (theme.value = e.currentTarget.value as Theme)}>
        {(["auto", "light", "dark"] as const).map((one) => (
          <option key={one} value={one}>
            {words[one]}
          </option>
        ))}
      </select>
    </span>
  );
}
