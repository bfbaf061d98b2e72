import { useEffect, useState } from "preact/hooks";

/** useUrl is an address under which the page may show bytes that it has; it ends with the component. */
export function useUrl(bytes: Uint8Array<ArrayBuffer> | undefined, type: string): string | undefined {
  const [url, setUrl] = useState<string>();
  useEffect(() => {
    if (!bytes) return;
    const made = URL.createObjectURL(new Blob([bytes], { type }));
    setUrl(made);
    return () => URL.revokeObjectURL(made);
  }, [bytes, type]);
  return url;
}
