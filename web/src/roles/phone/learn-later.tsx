import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";
import { learnWords } from "../../learn/words";
import type { PageProps } from "../../shell/page-list";
import { Loading, Trouble } from "../../ui/states";
import type { View } from "./overlay";

type Views = typeof import("./learn/pages").views;

const learning = () => Promise.all([import("./learn/pages"), learnWords.load()]).then(([pages]) => pages);

/** laterView is a page of learning, which the day does not wait for. */
export function laterView(name: keyof Views): ComponentType<PageProps> {
  return function Later(props: PageProps) {
    const [found, setFound] = useState<{ views: Views }>();
    const [error, setError] = useState<unknown>(null);
    useEffect(() => void learning().then(({ views }) => setFound({ views }), setError), []);
    if (error) return <Trouble error={error} retry={() => location.reload()} />;
    if (!found) return <Loading />;
    const Page = found.views[name];
    return <Page {...props} />;
  };
}

// The day comes first; what is learned later may wait a few seconds.
const afterTheDay = 4_000;

/** learnAhead puts what this caretaker can learn on the phone, for the days without network. It answers how to stop. */
export function learnAhead(farm: View): () => void {
  const modules = [...farm.modules, ...farm.more_modules];
  const enterprises = [...new Set(modules.filter((m) => m.lessons).map((m) => m.enterprise))];
  const bring = () =>
    learning()
      .then((pages) => pages.bringAhead(enterprises))
      .catch(() => undefined); // tried again the next time the day is read
  const timer = enterprises.length > 0 ? setTimeout(bring, afterTheDay) : undefined;
  return () => clearTimeout(timer);
}
