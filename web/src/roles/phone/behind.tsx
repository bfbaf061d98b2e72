import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { PageProps } from "../../shell/page-list";
import { Loading, Trouble } from "../../ui/states";

type Inner = typeof import("./inner");

let inner: Inner | null = null;

/** bringInner loads the pages behind the first one; once here, they are shown at once. */
export async function bringInner(): Promise<void> {
  inner ??= await import("./inner");
}

/** behind is a page that comes with the others behind the first. */
export function behind(name: keyof Inner): ComponentType<PageProps> {
  return function Behind(props) {
    const [, draw] = useState(0);
    const [error, setError] = useState<unknown>(null);
    const bring = () => {
      setError(null);
      bringInner().then(() => draw((n) => n + 1), setError);
    };
    useEffect(() => {
      if (!inner) bring();
    }, []);
    if (error !== null) return <Trouble error={error} retry={bring} />;
    if (!inner) return <Loading />;
    const View = inner[name];
    return <View {...props} />;
  };
}
