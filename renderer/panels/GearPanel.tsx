/** Every type that a device can be made of: found by name, dragged onto the canvas, or added by Enter. */
import { useEffect, useId, useMemo, useRef, useState } from "react";
import { CATEGORIES, typesToAdd, type Category, type DeviceType, type Point } from "#engine";
import { addOfType } from "../canvas/build.ts";
import { GLYPHS } from "../canvas/glyphs.ts";
import { focusStage, stageAt } from "../canvas/stage.ts";
import { typeFacts } from "../words/gear.ts";
import { plain } from "../search/search.ts";
import { followPointer } from "../parts/follow-pointer.ts";
import { useApp } from "../state/store.ts";
import { useUi } from "../state/ui.ts";
import { capital, plural } from "../words/verdicts.ts";

interface Group {
  readonly category: Category;
  readonly types: readonly DeviceType[];
}

export function GearPanel() {
  const show = useApp((state) => state.show);
  const [text, setText] = useState("");
  const [at, setAt] = useState<string | null>(null);
  const asked = useUi((state) => state.askedForGear);
  const input = useRef<HTMLInputElement>(null);
  const list = useRef<HTMLDivElement>(null);
  const base = useId();
  const types = useMemo(() => typesToAdd(show), [show]);
  const groups = useMemo(() => groupsOf(types, text), [types, text]);
  const shown = groups.flatMap((group) => group.types);
  const active = shown.find(({ id }) => id === at) ?? bestOf(shown, text);
  const inUse = useMemo(() => {
    const counts = new Map<string, number>();
    for (const { type } of show.devices) counts.set(type, (counts.get(type) ?? 0) + 1);
    return counts;
  }, [show.devices]);

  useEffect(() => {
    if (asked === 0) return;
    input.current?.focus();
    input.current?.select();
  }, [asked]);

  const go = (by: number): void => {
    const from = active ? shown.indexOf(active) : -1;
    const next = shown[Math.max(0, Math.min(shown.length - 1, from + by))];
    if (!next) return;
    setAt(next.id);
    list.current?.querySelector(`[data-type="${CSS.escape(next.id)}"]`)?.scrollIntoView({ block: "nearest" });
  };

  return (
    <section className="panel gear" aria-labelledby="gear-title">
      <header className="panel-head">
        <h2 id="gear-title">Gear</h2>
        <span className="soft number">{plural(types.length, "type", "types")}</span>
      </header>
      <div className="panel-tools">
        <input
          ref={input}
          type="text"
          className="field"
          role="combobox"
          aria-label="Find gear"
          aria-expanded="true"
          aria-controls={`${base}-list`}
          aria-activedescendant={active ? `${base}-${active.id}` : undefined}
          placeholder="Find gear"
          value={text}
          onChange={(event) => {
            setText(event.target.value);
            setAt(null);
          }}
          onKeyDown={(event) => {
            if (event.key === "ArrowDown") go(1);
            else if (event.key === "ArrowUp") go(-1);
            else if (event.key === "PageDown") go(6);
            else if (event.key === "PageUp") go(-6);
            else if (event.key === "Enter" && active) addOfType(active);
            else if (event.key === "Escape") focusStage();
            else return;
            event.preventDefault();
            event.stopPropagation();
          }}
        />
        <p className="soft small">Drag onto the canvas, or Enter to add.</p>
      </div>
      <div ref={list} id={`${base}-list`} className="gear-list" role="listbox" aria-label="Gear">
        {groups.map(({ category, types: some }) => (
          <div key={category} role="group" aria-label={capital(category)}>
            <h3 aria-hidden="true">{capital(category)}</h3>
            {some.map((type) => (
              <GearRow
                key={type.id}
                id={`${base}-${type.id}`}
                type={type}
                active={type === active}
                used={inUse.get(type.id) ?? 0}
                onPress={() => {
                  setAt(type.id);
                  input.current?.focus();
                }}
              />
            ))}
          </div>
        ))}
        {shown.length === 0 && <p className="soft empty">No gear is called “{text}”.</p>}
      </div>
    </section>
  );
}

/** The one whose name begins as was typed, else has it in it, else the first that fits word by word. */
function bestOf(shown: readonly DeviceType[], text: string): DeviceType | undefined {
  const typed = plain(text).trim();
  return (
    shown.find(({ name }) => plain(name).startsWith(typed)) ??
    shown.find(({ name }) => plain(name).includes(typed)) ??
    shown[0]
  );
}

function groupsOf(types: readonly DeviceType[], text: string): readonly Group[] {
  const words = plain(text).split(/\s+/).filter(Boolean);
  const fits = (type: DeviceType): boolean => {
    const searched = plain(`${type.name} ${type.category} ${typeFacts(type)}`);
    return words.every((word) => searched.includes(word));
  };
  return CATEGORIES.map((category) => ({
    category,
    types: types.filter((type) => type.category === category && fits(type)),
  })).filter((group) => group.types.length > 0);
}

function GearRow({
  id,
  type,
  active,
  used,
  onPress,
}: {
  id: string;
  type: DeviceType;
  active: boolean;
  used: number;
  onPress: () => void;
}) {
  const [ghost, setGhost] = useState<(Point & { readonly inside: boolean }) | null>(null);
  return (
    <div
      id={id}
      role="option"
      aria-selected={active}
      className="gear-row"
      data-type={type.id}
      title="Drag onto the canvas, or press twice to add"
      onClick={onPress}
      onDoubleClick={() => addOfType(type)}
      onPointerDown={(event) => dragOut(event, type, setGhost)}
    >
      <svg className="gear-glyph" viewBox="0 0 16 16" aria-hidden="true">
        <path d={GLYPHS[type.category]} />
      </svg>
      <span className="gear-text">
        <span className="strong">{type.name}</span>
        <span className="soft small">{typeFacts(type)}</span>
      </span>
      {used > 0 && (
        <span className="soft number small" title={`${plural(used, "device", "devices")} in this show`}>
          {used}
        </span>
      )}
      {ghost && (
        <span className="gear-ghost" data-inside={ghost.inside} style={{ left: ghost.x, top: ghost.y }}>
          {type.name}
        </span>
      )}
    </div>
  );
}

/** By pointer, so that a pen and a finger can do it too. */
function dragOut(
  down: React.PointerEvent,
  type: DeviceType,
  ghost: (at: (Point & { readonly inside: boolean }) | null) => void,
): void {
  if (down.button !== 0) return;
  const { currentTarget, pointerId } = down;
  // A finger's moves would go on to the row only.
  if (currentTarget.hasPointerCapture(pointerId)) currentTarget.releasePointerCapture(pointerId);
  // What a blank show says stands before its canvas, and takes what is dropped there.
  const target = (page: Point): Point | null =>
    document.elementFromPoint(page.x, page.y)?.closest(".canvas, .over-canvas") ? stageAt(page) : null;
  followPointer(down, {
    move: (at) => ghost({ ...at, inside: target(at) !== null }),
    drop(page) {
      const at = target(page);
      if (!at) return;
      addOfType(type, at);
      // It is what keys are about now, not the list that it came from: where nobody has them they are the canvas's.
      if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
    },
    end: () => ghost(null),
  });
}
