import type { components } from "../api/api.gen";
import { Problem } from "../api/problem";
import { useRead } from "../api/read";
import { send } from "../api/transport";
import { formats } from "../i18n/format";
import { language } from "../i18n/language";
import { Page } from "../shell/page";
import type { PageProps } from "../shell/page-list";
import { LinkButton } from "../ui/button";
import { Shown } from "../ui/shown";
import { Trouble } from "../ui/states";
import { Table } from "../ui/table";
import { CodeForm } from "./type-code";
import { certificateWords } from "./words";
import "./certificate.css";

type Certificate = components["schemas"]["CertificatePage"];
type Line = components["schemas"]["CertificateLine"];

// A stranger asks: it goes without a token.
async function ask(code: string, lang: string, signal: AbortSignal): Promise<Certificate> {
  const path = `/api/certificates/${encodeURIComponent(code)}`;
  return (await send<Certificate>("GET", path, { query: { lang }, signal })).body;
}

/** Check says to whoever has the code of a certificate what it is worth today. */
export function Check({ params: { code = "" } }: PageProps) {
  const words = certificateWords();
  const lang = language.value;
  const read = useRead(`${code} ${lang}`, (signal) => ask(code, lang, signal));
  const refused = read.error instanceof Problem && !read.error.passing && !read.busy;
  return (
    <Page title={words.title}>
      {refused ? (
        <>
          <Trouble error={read.error} texts={words.problems} />
          <CodeForm code={code} />
        </>
      ) : (
        <Shown read={read} texts={words.problems}>
          {(certificate) => <Worth certificate={certificate} />}
        </Shown>
      )}
    </Page>
  );
}

function Worth({ certificate }: { certificate: Certificate }) {
  const words = certificateWords();
  const { date } = formats();
  const { valid, on } = certificate;
  return (
    <>
      <div class={valid ? "worth worth-valid" : "worth"} role="status">
        <p class="worth-word">
          <Sign valid={valid} /> {valid ? words.valid : words.notValid}
        </p>
        <p>{valid ? words.validText(on) : words.notValidText(on)}</p>
      </div>
      <dl class="worth-facts">
        <dt>{words.name}</dt>
        <dd>{certificate.name}</dd>
        <dt>{words.number}</dt>
        <dd>{certificate.code}</dd>
        <dt>{words.issued}</dt>
        <dd>{date(certificate.issued_on)}</dd>
      </dl>
      <Modules lines={certificate.modules} />
      <p class="no-print">
        <LinkButton href="/certificates">{words.another}</LinkButton>
      </p>
    </>
  );
}

function Modules({ lines }: { lines: readonly Line[] }) {
  const words = certificateWords();
  const { date } = formats();
  const stands = (l: Line) => (l.valid ? words.stands : l.until ? words.lapsed : words.none);
  return (
    <Table
      caption={words.modules}
      columns={[
        { key: "module", head: words.module, cell: (l) => l.name },
        { key: "today", head: words.today, cell: stands },
        { key: "passed", head: words.passed, cell: (l) => date(l.passed_on) },
        { key: "until", head: words.until, cell: (l) => date(l.until) },
      ]}
      rows={lines}
      keyOf={(l) => l.name}
    />
  );
}

// The words say it; the sign is for the eye from afar.
function Sign({ valid }: { valid: boolean }) {
  return (
    <svg viewBox="0 0 24 24" width="24" height="24" aria-hidden="true">
      <path class="worth-sign" d={valid ? "M4 13l5 5L20 6" : "M5 5l14 14M19 5L5 19"} />
    </svg>
  );
}
