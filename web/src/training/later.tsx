import { useEffect, useState } from "preact/hooks";
import { Loading, Trouble } from "../ui/states";
import { trainingWords } from "./words";

type View = typeof import("./training").Training;

/** TrainingLater is the page of the training, which no other page of its area waits for. */
export function TrainingLater() {
  const [found, setFound] = useState<{ View: View }>();
  const [error, setError] = useState<unknown>(null);
  useEffect(() => {
    Promise.all([import("./training"), trainingWords.load()]).then(
      ([{ Training }]) => setFound({ View: Training }),
      setError,
    );
  }, []);
  if (error) return <Trouble error={error} retry={() => location.reload()} />;
  return found ? <found.View /> : <Loading />;
}
