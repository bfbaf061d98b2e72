import { useState } from "preact/hooks";
import { api } from "../../api/client";
import { useRead } from "../../api/read";
import { Page } from "../../shell/page";
import type { PageProps } from "../../shell/page-list";
import { DateField } from "../../ui/date-field";
import { Shown } from "../../ui/shown";
import { Loading } from "../../ui/states";
import { packOf, usePacks } from "../packs";
import { Entry } from "./entry";
import { Print } from "./print";
import { sheetWords } from "./words";
import "./daybook.css";

/** Paper is the daybook of one unit on paper: a page is printed, and the filled page typed in. */
export function Paper({ params }: PageProps) {
  const { id: farm = "", unit = "" } = params;
  const words = sheetWords();
  const [from, setFrom] = useState("");
  const read = useRead(`daybook ${unit} ${from}`, async (signal) => {
    const query = from ? { from } : {};
    return (await api.get("/api/units/{id}/daybook", { path: { id: unit }, query, signal })).body;
  });
  const page = read.value;
  usePacks(page ? [page.enterprise] : []);
  return (
    <Page title={words.title(page?.unit ?? "")} back={`/farms/${encodeURIComponent(farm)}`}>
      <Shown read={read} texts={words.problems}>
        {(found) => {
          const pack = packOf(found.enterprise);
          return (
            <>
              <p class="minor">{[found.farm, found.town].filter(Boolean).join(", ")}</p>
              <Print page={found} />
              <section>
                <h2>{words.entry.title}</h2>
                <DateField label={words.entry.from} value={from || found.from} onValue={setFrom} />
                {pack ? <Entry key={found.from} page={found} pack={pack} /> : <Loading />}
              </section>
            </>
          );
        }}
      </Shown>
    </Page>
  );
}
