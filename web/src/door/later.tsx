import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";
import { lockWords } from "../lock/words";
import { Loading, Trouble } from "../ui/states";

/**
 * Later shows what a fresh phone must not wait for: what opens one that was
 * enrolled before, or chooses a password. `load` is a constant of its module.
 */
export function Later<P extends object>({
  load,
  props,
}: {
  load: () => Promise<ComponentType<P>>;
  props: P;
}) {
  const [found, setFound] = useState<{ View: ComponentType<P> }>();
  const [error, setError] = useState<unknown>(null);
  useEffect(() => {
    Promise.all([load(), lockWords.load()]).then(([View]) => setFound({ View }), setError);
  }, [load]);
  if (error) return <Trouble error={error} retry={() => location.reload()} />;
  return found ? <found.View {...props} /> : <Loading />;
}
