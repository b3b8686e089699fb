package io.evenwarm.monitor.view;

import io.evenwarm.monitor.evenness.Wording;
import io.evenwarm.monitor.history.CabinetKey;
import java.util.List;

/** Two invented outages of the calm cabinet: one reconstructed, one of which nothing is known. */
final class InventedOutages implements WindowOutages {

    private static final List<Listed> LIST =
            List.of(
                    new Listed("north@2", "2026-05-03 01:40, 5 h 1 min", "mains and agent dark"),
                    new Listed("north@1", "2026-04-20 13:00, 26 h", "network dark"));

    @Override
    public List<Listed> list(CabinetKey key, Wording wording) {
        return key.equals(InventedCabinets.Story.CALM.key()) ? LIST : List.of();
    }

    @Override
    public Told review(CabinetKey key, String id, Wording wording, int width) {
        if (id.equals("north@1")) {
            return new Told(
                    "What the eggs of north had is not known. It lasted 26 h.",
                    false,
                    List.of("Whether it was heated"),
                    List.of(),
                    List.of(),
                    "No probe measured eggs.");
        }
        return new Told(
                "The coldest eggs of north got down to 23.4 °C (22.8 to 24.0), reconstructed, and"
                        + " were below 30.5 °C for 7.2 h.",
                true,
                List.of(),
                List.of(),
                List.of(
                        new Table(
                                "Eggs, reconstructed",
                                List.of("", "Value (95 % band)", "Hours", "Area"),
                                List.of(
                                        List.of(
                                                "Coldest eggs, least",
                                                "23.4 °C (22.8 to 24.0)",
                                                "",
                                                ""),
                                        List.of("below 30.5 °C", "", "7.2 h", "31.4 K h"))),
                        new Table(
                                "Tubs, reconstructed",
                                List.of("Tub", "Shelf", "Least", "Greatest"),
                                List.of(
                                        List.of(
                                                "A1",
                                                "bottom (no probe there)",
                                                "23.4 °C (22.8 to 24.0)",
                                                "31.5 °C (31.2 to 31.8)")))),
                "No probe measured eggs.");
    }
}
