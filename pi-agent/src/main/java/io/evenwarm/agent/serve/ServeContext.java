package io.evenwarm.agent.serve;

import io.evenwarm.agent.journal.JournalFeed;
import io.evenwarm.agent.port.CommandIntake;
import io.evenwarm.clock.MonotonicClock;
import io.evenwarm.message.AgentName;
import io.evenwarm.message.Moment;
import io.evenwarm.message.ProbeSensor;
import java.util.List;
import java.util.Optional;
import java.util.function.Supplier;

/**
 * What sessions speak of and with.
 *
 * @param name the agent's name
 * @param program name and version of this program, for people
 * @param clockRate how many of the cabinets' seconds pass in a real one: 1 but in a simulation
 * @param now the cabinets' time; any thread may ask
 * @param board the newest snapshots
 * @param journal what is committed
 * @param commands where a person's commands go
 * @param clock real time, for keep-alives and silences
 * @param troubles each place where monitors should connect and can't; any thread may ask
 * @param run this run of the agent
 * @param pairing who may come in, and do what
 * @param sensors what the probes are, as far as that is known; empty where nobody looked
 */
public record ServeContext(
        AgentName name,
        String program,
        double clockRate,
        Supplier<Moment> now,
        SnapshotBoard board,
        JournalFeed journal,
        CommandIntake commands,
        MonotonicClock clock,
        Supplier<List<String>> troubles,
        RunState run,
        PairingDesk pairing,
        Optional<List<ProbeSensor>> sensors) {

    public ServeContext {
        sensors = sensors.map(List::copyOf);
    }

    /** Where nothing is known of the probes. */
    public ServeContext(
            AgentName name,
            String program,
            double clockRate,
            Supplier<Moment> now,
            SnapshotBoard board,
            JournalFeed journal,
            CommandIntake commands,
            MonotonicClock clock,
            Supplier<List<String>> troubles,
            RunState run,
            PairingDesk pairing) {
        this(
                name,
                program,
                clockRate,
                now,
                board,
                journal,
                commands,
                clock,
                troubles,
                run,
                pairing,
                Optional.empty());
    }

    /** Where nobody comes by a key: every link is one at the machine itself, or a line. */
    public ServeContext(
            AgentName name,
            String program,
            double clockRate,
            Supplier<Moment> now,
            SnapshotBoard board,
            JournalFeed journal,
            CommandIntake commands,
            MonotonicClock clock,
            Supplier<List<String>> troubles,
            RunState run) {
        this(
                name,
                program,
                clockRate,
                now,
                board,
                journal,
                commands,
                clock,
                troubles,
                run,
                PairingDesk.shut(name, clock));
    }
}
