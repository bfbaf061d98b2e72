import { useState } from "preact/hooks";
import { api } from "../../api/client";
import { useReadList } from "../../api/read";
import type { FarmRow } from "../../api/types";
import { namesOf, packOf, usePacks } from "../../farm/packs";
import { projectionWords } from "../../farm/projection/words";
import { harvestKey, stripOf } from "../../farm/strip-of";
import { Page } from "../../shell/page";
import type { PageEntry } from "../../shell/page-list";
import { StripView } from "../../strip/strip";
import { Button } from "../../ui/button";
import { TextArea } from "../../ui/field";
import { FormDialog } from "../../ui/form-dialog";
import { Later } from "../../ui/later";
import { More, Shown } from "../../ui/shown";
import { Empty } from "../../ui/states";
import { mineWords } from "./words";

const ahead = () =>
  Promise.all([import("../../farm/projection/projection"), projectionWords.load()]).then(
    ([m]) => m.Projection,
  );

/** Mine is an owner's page: each farm with its strip and when the harvest is likely, in plain words. */
function Mine() {
  const words = mineWords();
  const [asking, setAsking] = useState<FarmRow | null>(null);
  const list = useReadList<FarmRow>("mine", async (cursor, signal) => {
    const query = cursor ? { cursor } : {};
    return (await api.get("/api/farms", { query, signal })).body;
  });
  usePacks((list.value ?? []).flatMap((farm) => farm.cycles.map((c) => c.enterprise)));
  return (
    <Page title={words.title}>
      <Shown read={list}>
        {(farms) =>
          farms.length === 0 ? (
            <Empty>{words.none}</Empty>
          ) : (
            farms.map((farm) => <FarmPart key={farm.id} farm={farm} ask={() => setAsking(farm)} />)
          )
        }
      </Shown>
      <More list={list} label={words.more} />
      {asking && <AskForVisit farm={asking} onClose={() => setAsking(null)} />}
    </Page>
  );
}

function FarmPart({ farm, ask }: { farm: FarmRow; ask: () => void }) {
  const words = mineWords();
  return (
    <section aria-label={farm.name}>
      <h2>{farm.name}</h2>
      {farm.cycles.map(({ cycle_id, unit_id, unit, enterprise, outlook }) => (
        <div key={cycle_id}>
          <h3>{unit}</h3>
          {outlook ? (
            <>
              <StripView strip={ownStrip(outlook, enterprise)} />
              {outlook.harvest.p50 && <p>{words.harvest(outlook.harvest.p50, outlook.harvest.p90)}</p>}
              <p>{words.estimate}</p>
            </>
          ) : (
            <p>{words.notYet}</p>
          )}
          <p>
            <a href={`/mine/${farm.id}/ahead/${unit_id}`} aria-label={words.aheadOf(unit)}>
              {words.ahead}
            </a>
          </p>
        </div>
      ))}
      <Button aria-label={words.askOf(farm.name)} onClick={ask}>
        {words.ask}
      </Button>
    </section>
  );
}

// The firm tells of a slip itself, so the strip of an owner has dates only.
function ownStrip(outlook: NonNullable<FarmRow["cycles"][number]["outlook"]>, enterprise: string) {
  const { slip: _, ...strip } = stripOf(
    outlook,
    harvestKey(outlook, packOf(enterprise)),
    namesOf(enterprise),
  );
  return strip;
}

function AskForVisit({ farm, onClose }: { farm: FarmRow; onClose: () => void }) {
  const words = mineWords();
  const [text, setText] = useState("");
  const send = async () => {
    await api.post("/api/farms/{id}/visit-requests", { path: { id: farm.id }, body: { text } });
  };
  return (
    <FormDialog
      title={words.askOf(farm.name)}
      save={words.send}
      send={send}
      onClose={onClose}
      done={words.sent}
    >
      {() => <TextArea label={words.what} value={text} onValue={setText} maxLength={2000} />}
    </FormDialog>
  );
}

/** The pages of this role; the first is its home. */
export const pages: readonly PageEntry[] = [
  { path: "/mine", view: Mine, nav: () => mineWords().title },
  {
    path: "/mine/:id/ahead/:unit",
    view: (props) => <Later load={ahead} props={{ ...props, back: "/mine" }} />,
  },
];
