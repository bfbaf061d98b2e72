import { bringFile } from "../../../api/file";

/** bringReview fetches the unchecked estimates as CSV and gives them to the browser to keep. */
export async function bringReview(): Promise<void> {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(await bringFile("/api/card-reviews.csv", {}));
  link.download = "triage-cards.csv";
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
