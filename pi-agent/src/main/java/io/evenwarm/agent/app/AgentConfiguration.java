package io.evenwarm.agent.app;

import io.evenwarm.message.AgentName;
import java.nio.file.Path;
import java.util.List;
import java.util.Optional;

/**
 * What a configuration file says, checked.
 *
 * @param name what the agent is called
 * @param stateFolder where latches, set points, journal, identity and local socket live
 * @param tls where monitors connect over TLS; empty for nowhere
 * @param serial the line to a monitor; empty for none
 * @param journal how often the journal is written
 * @param roots where Linux's sensor and output files are
 * @param simulation how simulated cabinets run
 * @param cabinets at least one
 */
record AgentConfiguration(
        AgentName name,
        Path stateFolder,
        Optional<TlsSettings> tls,
        Optional<SerialSettings> serial,
        JournalSettings journal,
        Roots roots,
        SimulationSettings simulation,
        List<CabinetSettings> cabinets) {

    AgentConfiguration {
        cabinets = List.copyOf(cabinets);
    }

    /** Whether any cabinet is simulated. */
    boolean isSimulated() {
        return cabinets.stream().anyMatch(CabinetSettings::isSimulated);
    }

    /**
     * @param host name or address to listen at
     * @param port 0 for any free one
     * @param trustedKeys pins of the monitors that are let in, {@code sha256:} and 64 hex digits
     */
    record TlsSettings(String host, int port, List<String> trustedKeys) {
        TlsSettings {
            trustedKeys = List.copyOf(trustedKeys);
        }
    }

    /**
     * @param port device file
     * @param baud bits a second
     */
    record SerialSettings(String port, int baud) {}

    /**
     * @param intervalSeconds time between two readings of a cabinet
     * @param commitSeconds what a power cut may cost at most
     */
    record JournalSettings(int intervalSeconds, int commitSeconds) {}

    /** Root folders of Linux's files, or of stand-ins. */
    record Roots(Path oneWire, Path hwmon, Path iio, Path led) {}

    /**
     * @param seed one seed gives one run
     * @param speed simulated seconds a second
     */
    record SimulationSettings(long seed, double speed) {}
}
