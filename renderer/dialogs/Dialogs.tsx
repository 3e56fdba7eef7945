/** The one dialog that is open, if any. */
import { lazy, Suspense } from "react";
import { never } from "#engine";
import { ui, useUi } from "../state/ui.ts";
import { ImportDialog } from "../tables/ImportDialog.tsx";
import { PatchDialog } from "../tables/PatchDialog.tsx";
import { ConflictDialog, RecoveryDialog, RenameDialog, RevisionDialog, UnsavedDialog } from "./questions.tsx";
import { AddPlaceDialog, PlacesDialog, RemovePlaceDialog, RenameThingDialog } from "./building.tsx";
import { PlugDialog } from "./PlugDialog.tsx";
import { OpenDialog, SaveDialog } from "./FileChooser.tsx";
import { ImportTypeDialog, UseTypeDialog } from "../types/dialogs.tsx";
import { KeysDialog } from "../help/KeysDialog.tsx";
import { LegendDialog } from "../help/LegendDialog.tsx";
import { WordsDialog } from "../help/WordsDialog.tsx";
import { PaperDialog } from "../paper/PaperDialog.tsx";
import { RouteDialog } from "../routing/RouteDialog.tsx";

const ChecksDialog = lazy(() => import("../help/ChecksDialog.tsx"));

const close = (): void => ui.setState({ dialog: null });

export function Dialogs() {
  const dialog = useUi((state) => state.dialog);
  if (!dialog) return null;
  switch (dialog.kind) {
    case "unsaved":
      return <UnsavedDialog title={dialog.title} before={dialog.before} onAnswer={dialog.answer} />;
    case "conflict":
      return <ConflictDialog name={dialog.name} onAnswer={dialog.answer} />;
    case "recovery":
      return <RecoveryDialog copies={dialog.copies} onAnswer={dialog.answer} />;
    case "open-file":
      return <OpenDialog onAnswer={dialog.answer} />;
    case "save-file":
      return (
        <SaveDialog
          purpose={dialog.purpose}
          suggested={dialog.suggested}
          extension={dialog.extension}
          onAnswer={dialog.answer}
        />
      );
    case "route":
      return <RouteDialog from={dialog.from} to={dialog.to} onClose={close} />;
    case "use-type":
      return <UseTypeDialog name={dialog.name} change={dialog.change} onAnswer={dialog.answer} />;
    case "import-type":
      return <ImportTypeDialog name={dialog.name} present={dialog.present} onAnswer={dialog.answer} />;
    case "rename-show":
      return <RenameDialog onClose={close} />;
    case "rename-device":
      return <RenameThingDialog kind="device" id={dialog.device} onClose={close} />;
    case "rename-place":
      return <RenameThingDialog kind="place" id={dialog.place} onClose={close} />;
    case "rename-cable":
      return <RenameThingDialog kind="cable" id={dialog.cable} onClose={close} />;
    case "add-place":
      return <AddPlaceDialog onClose={close} />;
    case "places":
      return <PlacesDialog onClose={close} />;
    case "remove-place":
      return <RemovePlaceDialog place={dialog.place} onClose={close} />;
    case "plug":
      return <PlugDialog from={dialog.from} moving={dialog.moving} only={dialog.only} onClose={close} />;
    case "mark-revision":
      return <RevisionDialog onClose={close} />;
    case "import-list":
      return <ImportDialog table={dialog.table} file={dialog.file} onClose={close} />;
    case "patch-list":
      return <PatchDialog what={dialog.what} onClose={close} />;
    case "paper":
      return <PaperDialog onClose={close} />;
    case "words":
      return <WordsDialog onClose={close} />;
    case "checks":
      return (
        <Suspense>
          <ChecksDialog onClose={close} />
        </Suspense>
      );
    case "keys":
      return <KeysDialog onClose={close} />;
    case "legend":
      return <LegendDialog onClose={close} />;
    default:
      return never(dialog);
  }
}
