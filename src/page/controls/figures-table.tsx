/** A plain table of figures; its first column names the rows. */

interface FiguresTableProps {
  /** What it shows, for those who do not see it. */
  readonly caption: string;
  readonly head: readonly string[];
  readonly rows: readonly (readonly string[])[];
}

export function FiguresTable({ caption, head, rows }: FiguresTableProps) {
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
