import { bringFile } from "../api/file";

/** bringRecord fetches the training record as CSV. */
export function bringRecord(lang: string, branch: string): Promise<Blob> {
  return bringFile("/api/training/record.csv", { lang, ...(branch ? { branch } : {}) });
}
