/** A plain table of figures; its first column names the rows. */

interface FiguresTableProps {
  /** What it shows, for those who do not see it. */
  readonly caption: string;
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

/** Without the columns of which no row says anything. */
function filled({ head, rows }: Pick<FiguresTableProps, "head" | "rows">) {
  const kept = head.map((_, k) => k === 0 || rows.some((row) => (row[k] ?? "") !== ""));
  const only = (cells: readonly string[]) => cells.filter((_, k) => kept[k]);
  return {
    head: only(head),
    rows: rows.map(only),
  };
}

export function FiguresTable({ caption, ...table }: FiguresTableProps) {
  const { head, rows } = filled(table);
  return (
    <div class="wide">
      <table class="summary">
        <caption class="unseen">{caption}</caption>
        <thead>
          <tr>
            {head.map((text, k) =>
              text === "" ? (
                <td key={k} />
              ) : (
                <th key={k} scope="col">
                  {text}
                </th>
              ),
            )}
          </tr>
        </thead>
        <tbody>
          {rows.map(([name, ...cells], n) => (
            <tr key={n}>
              <th scope="row">{name}</th>
              {cells.map((text, k) => (
                <td key={k}>{text}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
