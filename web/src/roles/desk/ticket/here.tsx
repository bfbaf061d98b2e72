import { useEffect, useState } from "preact/hooks";
import { api } from "../../../api/client";
import { useLive } from "../live";
import { deskWords } from "../words";

// A sign of life; the server forgets who gave none for 50 seconds.
const beat = 20_000;

/** Here says who else has this ticket open, so that two do not do the same. */
export function Here({ id }: { id: string }) {
  const [names, setNames] = useState<string[]>([]);
  const tell = async (leaving = false) => {
    const { body } = await api.post("/api/tickets/{id}/here", { path: { id }, body: { leaving } });
    if (!leaving) setNames(body.people.map((p) => p.name));
  };
  const look = () => void (document.visibilityState === "visible" && tell().catch(() => setNames([])));
  useEffect(() => {
    look();
    const timer = setInterval(look, beat);
    document.addEventListener("visibilitychange", look);
    return () => {
      clearInterval(timer);
      document.removeEventListener("visibilitychange", look);
      void tell(true).catch(() => undefined);
    };
  }, [id]);
  useLive((news) => news.kind === "here" && news.ticket === id && look());
  return (
    <p class="also-here" role="status">
      {names.length > 0 && deskWords().ticket.here(names)}
    </p>
  );
}
