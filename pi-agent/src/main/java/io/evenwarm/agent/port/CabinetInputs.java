package io.evenwarm.agent.port;

import java.util.Optional;

/**
 * What a cabinet tells beside its probes; each of them optional.
 *
 * @param door closed: the door is shut
 * @param fanTachometer turns of the circulation fan
 * @param silenceButton closed: pressed
 * @param resetButton closed: pressed
 */
public record CabinetInputs(
        Optional<Contact> door,
        Optional<Tachometer> fanTachometer,
        Optional<Contact> silenceButton,
        Optional<Contact> resetButton) {

    /** A cabinet with nothing but probes. */
    public static final CabinetInputs NONE =
            new CabinetInputs(
                    Optional.empty(), Optional.empty(), Optional.empty(), Optional.empty());
}
