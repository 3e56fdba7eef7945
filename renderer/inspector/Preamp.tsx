/** A source's gain, and the consoles that hear every step of it: what each of them trims. */
import {
  followers,
  gainEdits,
  round,
  terminalOf,
  withinRange,
  type Analysis,
  type ChannelPlan,
  type Edit,
  type Follower,
  type Source,
} from "#engine";
import { Term } from "../parts/Term.tsx";
import { app, latest, onceAnalysed } from "../state/store.ts";
import { Commit, Fact, Facts, Section, TerminalLink } from "./parts.tsx";
import { deviceName } from "../words/names.ts";

const edit = (edits: readonly Edit[], label: string): void =>
  app.getState().change({ kind: "edits", edits }, label);

const DECIBELS_NEEDED = "A number of dB from −120 to 120 is needed, such as 34.5.";

/** Null: not a number of decibels. */
function decibelsFrom(text: string): number | null {
  const plain = text
    .trim()
    .replace(",", ".")
    .replace("−", "-")
    .replace(/\s*dB$/i, "");
  const value = Number(plain);
  return plain !== "" && Number.isFinite(value) && Math.abs(value) <= 120 ? round(value, 1) : null;
}

/** `+3`, `−4.5`, `0`. */
const decibels = (value: number): string =>
  value === 0 ? "0" : `${value > 0 ? "+" : "−"}${round(Math.abs(value), 1)}`;

function setGain(drawn: Source, gain: number): void {
  const source = latest(({ sources }) => sources, drawn);
  // A gain that is told for the first time is no step.
  const edits: readonly Edit[] =
    source.gain === undefined
      ? [{ kind: "put", list: "sources", record: { ...source, gain } }]
      : gainEdits(app.getState().analysis, source.id, gain - source.gain);
  edit(edits, `the gain of ${source.name}`);
}

export function PreampSection({ analysis, source }: { analysis: Analysis; source: Source }) {
  const following = followers(analysis).get(source.id) ?? [];
  if (source.preampOwner === undefined) return null;
  const owner = deviceName(analysis, source.preampOwner);
  return (
    <Section title="Gain">
      <Facts>
        <Fact name="Analogue, dB">
          <Commit
            label={`Analogue gain of ${source.name} in dB, set at ${owner}`}
            value={source.gain === undefined ? "" : decibels(source.gain)}
            placeholder="not known"
            onCommit={(text) => {
              const gain = decibelsFrom(text);
              if (gain === null) return DECIBELS_NEEDED;
              // How large a step it is shows when the one before it is known.
              onceAnalysed(() => setGain(source, gain));
            }}
          />
        </Fact>
      </Facts>
      {following.length > 0 && (
        <>
          <p className="soft small">
            {owner} sets it for all. Each step of it is one the other way in the digital{" "}
            <Term word="trim">trim</Term> of the others that <Term word="follows">follow</Term>.
          </p>
          <ul className="plain-list">
            {following.map((follower) => (
              <FollowerLine key={follower.channel.id} analysis={analysis} follower={follower} />
            ))}
          </ul>
        </>
      )}
    </Section>
  );
}

function FollowerLine({
  analysis,
  follower: { channel, terminal },
}: {
  analysis: Analysis;
  follower: Follower;
}) {
  const put = (set: Partial<ChannelPlan>, label: string): void => {
    const record = { ...latest(({ channels }) => channels, channel), ...set };
    edit([{ kind: "put", list: "channels", record }], label);
  };
  const { trim = 0 } = channel;
  const desk = deviceName(analysis, channel.console);
  const what = `${desk} channel ${channel.number}`;
  const beyond = withinRange(analysis.wiring, terminal, trim) === false;
  return (
    <li className="follower-line">
      <TerminalLink terminal={terminalOf(analysis.wiring, terminal)} />
      <label className="small">
        <input
          type="checkbox"
          checked={channel.follows ?? false}
          aria-label={`${what} follows the gain`}
          onChange={(event) => put({ follows: event.target.checked }, `whether ${what} follows`)}
        />
        follows
      </label>
      <span className="follower-trim">
        <Commit
          label={`Digital trim of ${what} in dB`}
          value={decibels(trim)}
          onCommit={(text) => {
            const value = decibelsFrom(text);
            if (value === null) return DECIBELS_NEEDED;
            put({ trim: value }, `the trim of ${what}`);
          }}
        />
        <span className={beyond ? "tone-danger small" : "soft small"}>
          {beyond ? "dB, past its range" : "dB"}
        </span>
      </span>
    </li>
  );
}
