import { useState } from "preact/hooks";
import { bringFile, saveFile } from "../../api/file";
import { isoOf, today } from "../../time/day";
import { Button } from "../../ui/button";
import { DateField } from "../../ui/date-field";
import { Trouble } from "../../ui/states";
import type { DaybookPage } from "./sheet";
import { sheetWords } from "./words";

/** Print gives out the empty page of a unit, in the language of whoever fills it in first. */
export function Print({ page }: { page: DaybookPage }) {
  const words = sheetWords();
  const [from, setFrom] = useState(page.today || isoOf(today()));
  const [busy, setBusy] = useState("");
  const [error, setError] = useState<unknown>(null);
  const theirs = page.people[0]?.language === "fr" ? ["fr", "en"] : ["en", "fr"];
  const bring = (lang: string) => {
    setBusy(lang);
    setError(null);
    bringFile(`/api/units/${encodeURIComponent(page.unit_id)}/daybook/paper`, { lang, from })
      .then((file) => saveFile(file, words.print.file(page.unit, from)))
      .catch(setError)
      .finally(() => setBusy(""));
  };
  return (
    <section>
      <h2>{words.print.title}</h2>
      <p>{words.print.help}</p>
      <DateField label={words.print.from} value={from} onValue={setFrom} />
      {error !== null && <Trouble error={error} texts={words.problems} />}
      <div class="buttons">
        {theirs.map((lang) => (
          <Button key={lang} busy={busy === lang} disabled={from === ""} onClick={() => bring(lang)}>
            {words.print.page[lang]}
          </Button>
        ))}
      </div>
    </section>
  );
}
