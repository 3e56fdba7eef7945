/** The small note beside the pointer: what it is on, whose it is, and whether anything arrives. */
import { useLayoutEffect, useRef } from "react";
import { never, VERDICT_NAMES } from "#engine";
import { OwnerTag } from "../parts/OwnerMark.tsx";
import { useApp } from "../state/store.ts";
import { ownersOf } from "../theme/owners.ts";
import { looksOf, rangeName, type CellLook, type Looks } from "./looks.ts";
import { useView, type Hovered } from "./view.ts";
import { wayName } from "./words.ts";
import type { Owners } from "../theme/owners.ts";

const DISTANCE = 14;

export function Readout() {
  const hovered = useView((state) => state.hovered);
  const analysis = useApp((state) => state.analysis);
  const owners = useApp((state) => ownersOf(state.analysis.show));
  const box = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const element = box.current;
    const parent = element?.parentElement;
    if (!hovered || !element || !parent) return;
    const room = parent.getBoundingClientRect();
    const { width, height } = element.getBoundingClientRect();
    const x = hovered.at.x - room.left + DISTANCE;
    const y = hovered.at.y - room.top + DISTANCE;
    const left = x + width > room.width - 4 ? x - width - 2 * DISTANCE : x;
    const top = y + height > room.height - 4 ? y - height - 2 * DISTANCE : y;
    element.style.transform = `translate(${Math.max(4, left)}px, ${Math.max(4, top)}px)`;
  });
  if (!hovered) return null;
  const lines = linesOf(hovered.what, looksOf(analysis), owners);
  return (
    lines && (
      <div ref={box} className="readout" aria-hidden="true">
        {lines}
      </div>
    )
  );
}

function linesOf(what: Hovered, looks: Looks, owners: Owners): React.ReactNode {
  switch (what.kind) {
    case "device": {
      const look = looks.devices.get(what.device);
      return (
        look && (
          <>
            <b>{look.name}</b>
            <span>{look.type.name}</span>
            {look.mode && <span>Mode: {look.mode}</span>}
            {look.findings > 0 && (
              <span className={look.worst ?? undefined}>
                {look.findings} {look.findings === 1 ? "finding" : "findings"}
              </span>
            )}
          </>
        )
      );
    }
    case "group": {
      const look = looks.devices.get(what.device);
      const port = look?.type.ports.find(({ id }) => id === what.group);
      const name =
        port?.name ??
        look?.spans.find(({ span }) => span.side === "jack" && span.bank.id === what.group)?.name ??
        look?.type.mixer?.sections.find(({ id }) => id === what.group)?.name;
      return (
        look && (
          <>
            <b>
              {look.name} {name}
            </b>
            {port && <span>{port.transport}</span>}
          </>
        )
      );
    }
    case "cells": {
      const look = looks.devices.get(what.device);
      const span = look?.spans[what.span];
      if (!look || !span) return null;
      const cells = span.cells.slice(what.first - 1, what.last);
      return (
        <>
          <b>
            {look.name} {span.name} {rangeName(what.first, what.last)}
          </b>
          {cells.length === 1 && cells[0]!.label !== null && <span>{cells[0]!.label}</span>}
          <State cells={cells} owners={owners} />
        </>
      );
    }
    case "cable": {
      const look = looks.cables.get(what.cable);
      return (
        look && (
          <>
            <b>{look.name}</b>
            <span>{look.facts}</span>
            {look.trouble === "misfit" && <span className="error">joins nothing that fits</span>}
            {look.ways.map((way) => (
              <span key={way.to}>
                {look.ways.length > 1 ? (way.to === 1 ? "There: " : "Back: ") : ""}
                {wayName(owners, way)}
              </span>
            ))}
          </>
        )
      );
    }
    default:
      return never(what);
  }
}

function State({ cells, owners }: { cells: readonly CellLook[]; owners: Owners }) {
  const fed = cells.filter((cell) => cell.fed);
  const from = [...new Set(fed.flatMap(({ owner }) => (owner === null ? [] : [owner])))];
  const stage = fed.some(({ owner }) => owner === null);
  const dark = cells.find(({ trouble }) => trouble !== null);
  const idle = cells.find((cell) => !cell.fed);
  const idleText = idle && (idle.verdict === "arrives" ? "not in use" : VERDICT_NAMES[idle.verdict]);
  return (
    <>
      {from.map((id) => (
        <span key={id} className="from">
          <OwnerTag device={id} /> {owners.get(id)?.name}
        </span>
      ))}
      {stage && <span>from the stage</span>}
      {fed.length > 0 && fed.length < cells.length && (
        <span>
          {fed.length} of {cells.length} in use
        </span>
      )}
      {dark ? (
        <span className={dark.trouble === "danger" ? "error" : "warning"}>{VERDICT_NAMES[dark.verdict]}</span>
      ) : (
        fed.length === 0 && <span>{idleText}</span>
      )}
    </>
  );
}
