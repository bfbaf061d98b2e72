import { useEffect, useState } from "preact/hooks";
import { api } from "../../api/client";
import { Button } from "../../ui/button";
import { Trouble } from "../../ui/states";
import { deskWords } from "./words";

/**
 * Notices offers to tell this browser of dangers and of tickets that come into
 * one's hands, where the firm has set that up and the browser can. It asks only
 * when it is pressed.
 */
export function Notices() {
  const words = deskWords().notices;
  const [key, setKey] = useState("");
  const [on, setOn] = useState(false);
  const [busy, setBusy] = useState(false);
  const [error, setError] = useState<unknown>(null);
  useEffect(() => {
    if (!("PushManager" in window) || !navigator.serviceWorker?.controller) return;
    void look().catch(() => undefined);
  }, []);
  const look = async () => {
    const { body } = await api.get("/api/push-key");
    const registration = await navigator.serviceWorker.ready;
    setOn((await registration.pushManager.getSubscription()) !== null);
    setKey(body.key);
  };
  const turn = async () => {
    setBusy(true);
    setError(null);
    try {
      const { pushManager } = await navigator.serviceWorker.ready;
      const known = await pushManager.getSubscription();
      if (known) {
        await api.post("/api/me/push/off", { body: { endpoint: known.endpoint } });
        await known.unsubscribe();
      } else {
        const made = await pushManager.subscribe({ userVisibleOnly: true, applicationServerKey: key });
        const { endpoint, keys } = made.toJSON();
        await api.post("/api/me/push", {
          body: { endpoint: endpoint ?? "", p256dh: keys?.p256dh ?? "", auth: keys?.auth ?? "" },
        });
      }
      setOn(!known);
    } catch (failure) {
      setError(failure);
    } finally {
      setBusy(false);
    }
  };
  if (!key) return null;
  return (
    <p class="notices">
      <Button kind="quiet" busy={busy} aria-pressed={on} onClick={() => void turn()}>
        {on ? words.off : words.on}
      </Button>
      {error !== null && <Trouble error={error} />}
    </p>
  );
}
