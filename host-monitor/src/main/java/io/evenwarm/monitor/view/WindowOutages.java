package io.evenwarm.monitor.view;

import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.report.Picture;
import java.util.List;

/**
 * Outages as the window needs them. Asked by a worker of the window's own, never by its drawing
 * thread: a review fits a model. Both throw {@link java.io.UncheckedIOException} when the store
 * can't be read.
 */
public interface WindowOutages {

    /** Where there is no store to ask. */
    WindowOutages NONE =
            new WindowOutages() {
                @Override
                public List<Listed> list(CabinetKey key, Wording wording) {
                    return List.of();
                }

                @Override
                public Told review(CabinetKey key, String id, Wording wording, int width) {
                    throw new IllegalArgumentException("there is no outage " + id);
                }
            };

    /** Those of a cabinet's whole record, the newest first. */
    List<Listed> list(CabinetKey key, Wording wording);

    /**
     * What one came to.
     *
     * @param id as it was listed
     * @param width of the pictures, pixels
     * @throws IllegalArgumentException when there is none of that name any more
     */
    Told review(CabinetKey key, String id, Wording wording, int width);

    /**
     * One of a list.
     *
     * @param when begin and length
     * @param what was dark, or what had failed
     */
    record Listed(String id, String when, String what) {}

    /**
     * A review, ready to be shown.
     *
     * @param answer what matters, in a sentence or two
     * @param isKnown whether what the eggs had is known
     * @param notKnown what is not known and why, a sentence each
     * @param pictures the annotated curves
     * @param note how what was not measured is marked, and how it came about
     */
    record Told(
            String answer,
            boolean isKnown,
            List<String> notKnown,
            List<Picture> pictures,
            List<Table> tables,
            String note) {

        public Told {
            notKnown = List.copyOf(notKnown);
            pictures = List.copyOf(pictures);
            tables = List.copyOf(tables);
        }
    }

    /**
     * One table.
     *
     * @param columns their headings; empty for none
     * @param rows with one cell a column
     */
    record Table(String heading, List<String> columns, List<List<String>> rows) {

        public Table {
            columns = List.copyOf(columns);
            rows = rows.stream().map(List::copyOf).toList();
        }
    }
}
