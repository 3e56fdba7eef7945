/** Under a field of a dialog: why its text can't be taken. The dialog's button waits meanwhile. */
export const TooLong = ({ reason }: { reason: string | undefined }) =>
  reason === undefined ? null : (
    <p className="field-refusal tone-danger small" role="alert">
      {reason}
    </p>
  );
