import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";
import { Loading, Trouble } from "./states";

/**
 * Later shows what the first page must not wait for: it is brought when
 * somebody goes there, with its words. `load` is a constant of its module.
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
    load().then((View) => setFound({ View }), setError);
  }, [load]);
  if (error) return <Trouble error={error} retry={() => location.reload()} />;
  return found ? <found.View {...props} /> : <Loading />;
}
