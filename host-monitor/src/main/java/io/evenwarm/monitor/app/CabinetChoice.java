package io.evenwarm.monitor.app;

import io.evenwarm.monitor.history.CabinetKey;
import java.util.List;
import java.util.stream.Collectors;

/** Which cabinet a person means by a name. */
final class CabinetChoice {

    private CabinetChoice() {}

    /**
     * The one of that name.
     *
     * @param asked a cabinet's name; {@code AGENT/CABINET} where several agents have one of it
     * @throws IllegalArgumentException when there is none, or more than one; the message says what
     *     is allowed
     */
    static CabinetKey of(String asked, List<CabinetKey> known) {
        List<CabinetKey> meant =
                known.stream()
                        .filter(
                                key ->
                                        key.cabinet().value().equals(asked)
                                                || full(key).equals(asked))
                        .toList();
        if (meant.size() != 1) {
            throw new IllegalArgumentException(
                    "CABINET must be one of "
                            + known.stream()
                                    .map(CabinetChoice::full)
                                    .collect(Collectors.joining(", "))
                            + ", but \""
                            + asked
                            + "\" is "
                            + (meant.isEmpty() ? "none" : "more than one"));
        }
        return meant.get(0);
    }

    /** Its name with its agent's. */
    static String full(CabinetKey key) {
        return key.agent().value() + "/" + key.cabinet().value();
    }
}
