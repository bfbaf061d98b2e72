import { useEffect, useState } from "preact/hooks";
import { Page } from "../../shell/page";
import { Loading, Trouble } from "../../ui/states";
import { deskWords } from "../desk/words";
import { managerWords } from "./words";

type View = typeof import("../desk/review/review").CardReviews;

/** Cards is the list of triage cards where a manager notes what a veterinarian signed; nothing else of the area waits for it. */
export function Cards() {
  const [found, setFound] = useState<{ View: View }>();
  const [error, setError] = useState<unknown>(null);
  useEffect(() => {
    Promise.all([import("../desk/review/review"), deskWords.load()]).then(
      ([{ CardReviews }]) => setFound({ View: CardReviews }),
      setError,
    );
  }, []);
  return (
    <Page title={managerWords().nav.cards}>
      {error !== null && <Trouble error={error} retry={() => location.reload()} />}
      {error === null && (found ? <found.View /> : <Loading />)}
    </Page>
  );
}
