package io.evenwarm.agent.app;

import io.evenwarm.link.KeyPin;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.Role;
import java.nio.file.Path;
import java.util.List;
import java.util.Map;
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
 * @param beacon what it says when no monitor is there
 * @param watchdog the kernel's watchdog device; empty for none
 * @param simulation how simulated cabinets run
 * @param cabinets at least one
 */
record AgentConfiguration(
        AgentName name,
        Path stateFolder,
        Optional<TlsSettings> tls,
        Optional<SerialSettings> serial,
        JournalPlan journal,
        Roots roots,
        BeaconSettings beacon,
        Optional<WatchdogPlan> watchdog,
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
     * @param announce when the agent shows itself on the local network
     * @param monitors what each monitor that is named here may do; others are paired
     */
    record TlsSettings(String host, int port, Announce announce, Map<KeyPin, Role> monitors) {
        TlsSettings {
            monitors = Map.copyOf(monitors);
        }
    }

    /** When the agent shows itself on the local network. */
    enum Announce {
        ALWAYS("always"),
        WHILE_PAIRING("while_pairing"),
        NEVER("never");

        private final String word;

        Announce(String word) {
            this.word = word;
        }

        /** As it stands in the file. */
        String word() {
            return word;
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
     * @param keepDays older entries are removed
     * @param maximumMegabytes the file never grows past this
     */
    record JournalPlan(
            int intervalSeconds, int commitSeconds, int keepDays, int maximumMegabytes) {}

    /**
     * @param device the kernel's watchdog device
     * @param disarmAtCleanEnd whether an end that was asked for takes the restart back
     */
    record WatchdogPlan(Path device, boolean disarmAtCleanEnd) {}

    /**
     * Root folders of Linux's files, or of stand-ins.
     *
     * @param boardBaud bits a second of every probe board's serial line
     */
    record Roots(Path oneWire, Path hwmon, Path iio, Path led, int boardBaud) {}

    /**
     * @param seed one seed gives one run
     * @param speed simulated seconds a second
     * @param isClockSet whether this machine's clock is taken as set, whatever its system says
     */
    record SimulationSettings(long seed, double speed, boolean isClockSet) {}
}
