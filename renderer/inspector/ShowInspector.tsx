/** The show itself: what it is called, what all of it goes by, and what is in it. */
import { ms, rateName, SAMPLE_RATES, TEMPERATURE_UNITS, USUAL_TEMPERATURE, type Settings } from "#engine";
import { findingCounts } from "../state/derived.ts";
import { app, useApp } from "../state/store.ts";
import { Commit, Fact, Facts, Head, Section } from "./parts.tsx";
import { LONGEST, nameRefusal, tooLong } from "../words/limits.ts";
import { readNumber, readTemperature, shownTemperature, temperatureNeeded } from "./show-settings.ts";

function set(change: { readonly [Key in keyof Settings]?: Settings[Key] | undefined }, what: string): void {
  const { show } = app.getState();
  // What is set to nothing goes from the file.
  const settings = Object.fromEntries(
    Object.entries({ ...show.settings, ...change }).filter(([, value]) => value !== undefined),
  ) as unknown as Settings;
  app.getState().change({ kind: "edits", edits: [{ kind: "settings", settings }] }, what);
}

/** Value: why it can't be taken. */
function write(key: "venue" | "notes", text: string, most: number, what: string): string | undefined {
  const refusal = tooLong(text, most);
  if (refusal === undefined) app.getState().change({ kind: "set-words", words: { [key]: text } }, what);
  return refusal;
}

export function ShowInspector() {
  const show = useApp((state) => state.analysis.show);
  const counts = useApp((state) => findingCounts(state.analysis));
  const { sampleRate, units, latencyLimit, temperature } = show.settings;
  return (
    <>
      <Head
        kind="Show"
        title={
          <Commit
            label="Title of the show"
            value={show.title}
            onCommit={(text) => {
              const title = text.trim();
              const refusal = nameRefusal(title, "A show needs a title.");
              if (refusal) return refusal;
              app.getState().change({ kind: "set-title", title }, "renaming the show");
            }}
          />
        }
      />
      <Section title="Settings">
        <Facts>
          <Fact name="Venue">
            <Commit
              label="Venue"
              value={show.venue}
              placeholder="none"
              onCommit={(text) => write("venue", text.trim(), LONGEST.name, "venue")}
            />
          </Fact>
          <Fact name="Sample rate">
            <select
              className="field"
              aria-label="Sample rate of the show"
              value={sampleRate}
              onChange={({ target }) => {
                const rate = SAMPLE_RATES.find((each) => String(each) === target.value);
                if (rate) set({ sampleRate: rate }, "sample rate of the show");
              }}
            >
              {SAMPLE_RATES.map((rate) => (
                <option key={rate} value={rate}>
                  {rateName(rate)}
                </option>
              ))}
            </select>
          </Fact>
          <Fact name="Units">
            <select
              className="field"
              aria-label="Units of the show"
              value={units}
              onChange={({ target }) =>
                set({ units: target.value === "imperial" ? "imperial" : "metric" }, "units of the show")
              }
            >
              <option value="metric">metres, °C</option>
              <option value="imperial">feet, °F</option>
            </select>
          </Fact>
          <Fact name="Latency limit, ms">
            <Commit
              label="Latency limit in ms, from a source to a wanted jack"
              value={latencyLimit === undefined ? "" : String(latencyLimit)}
              placeholder="none"
              onCommit={(text) => {
                const limit = readNumber(text, 0, 10_000);
                if (limit === null) return "A time from 0 to 10,000 ms is needed, or nothing for no limit.";
                set({ latencyLimit: limit === "" ? undefined : ms(limit) }, "latency limit of the show");
              }}
            />
          </Fact>
          <Fact name={`Air, ${TEMPERATURE_UNITS[units]}`}>
            <Commit
              label={`Temperature of the air in ${TEMPERATURE_UNITS[units]}`}
              value={temperature === undefined ? "" : shownTemperature(temperature, units)}
              placeholder={shownTemperature(USUAL_TEMPERATURE, units)}
              onCommit={(text) => {
                const degrees = readTemperature(text, units);
                if (degrees === null) return temperatureNeeded(units);
                set({ temperature: degrees === "" ? undefined : degrees }, "temperature of the air");
              }}
            />
          </Fact>
        </Facts>
      </Section>
      <Section title="In it">
        <Facts>
          <Fact name="Devices">{show.devices.length}</Fact>
          <Fact name="Cables">{show.cables.length}</Fact>
          <Fact name="Sources">{show.sources.length}</Fact>
          <Fact name="Mixes">{show.mixes.length}</Fact>
          <Fact name="Wants">{show.wants.length}</Fact>
        </Facts>
      </Section>
      <Section title="Findings">
        <Facts>
          <Fact name="Errors">{counts.error}</Fact>
          <Fact name="Warnings">{counts.warning}</Fact>
          <Fact name="Notes">{counts.note}</Fact>
        </Facts>
      </Section>
      <Section title="Notes">
        <Commit
          label="Notes on the show"
          value={show.notes}
          multiline
          onCommit={(text) => write("notes", text, LONGEST.note, "notes on the show")}
        />
      </Section>
      {show.revisions.length > 0 && (
        <Section title="Revisions">
          <ul className="plain-list">
            {show.revisions.map(({ name, date, note }, index) => (
              <li key={index}>
                <span>
                  {name} <span className="soft number">{date}</span>
                </span>
                <p className="soft">{note}</p>
              </li>
            ))}
          </ul>
        </Section>
      )}
    </>
  );
}
