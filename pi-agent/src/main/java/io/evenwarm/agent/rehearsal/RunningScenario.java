package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plant.PlantTruth;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
import java.time.Instant;
import java.util.Optional;

/**
 * A scenario that its caller lets go on second by second, to see what the agent of its cabinet says
 * and to answer it: several of them side by side are a house.
 *
 * <p>Not thread-safe. One seed gives one run, bit for bit, as long as the same is said at the same
 * seconds.
 */
public final class RunningScenario implements AutoCloseable {

    /** How long a settled start has held its set point when the scenario begins. */
    static final int SETTLING_SECONDS = 6 * 3600;

    private final RehearsedAgent agent;
    private final Timeline timeline;
    private long second;

    /**
     * At second 0, a settled start's settling behind it.
     *
     * @param name what the cabinet is called
     * @throws IllegalArgumentException when its limits do not fit each other
     */
    public RunningScenario(Scenario scenario, CabinetName name) {
        this(scenario, name, new OutputTrace());
    }

    /**
     * @param trace sees the lines, while the cabinet settles too
     */
    RunningScenario(Scenario scenario, CabinetName name, OutputTrace trace) {
        this(
                scenario,
                ScenarioPlan.of(scenario.cabinet(), name),
                trace,
                RehearsedAgent.Beginning.ofRehearsal(scenario.seed()));
    }

    /**
     * One whose second 0 is a moment of the calendar, in a cabinet that is planned already.
     *
     * @param plan of the scenario's cabinet; its probes bear the names that the scenario uses
     * @param begin second 0
     * @param machine two cabinets of one machine have the same; their boots then are the same too,
     *     as long as their scenarios have the same power cuts
     */
    public RunningScenario(Scenario scenario, CabinetPlan plan, Instant begin, long machine) {
        this(
                scenario,
                plan,
                new OutputTrace(),
                new RehearsedAgent.Beginning(
                        scenario.cabinet().start() == Scenario.Start.SETTLED
                                ? begin.minusSeconds(SETTLING_SECONDS)
                                : begin,
                        machine));
    }

    private RunningScenario(
            Scenario scenario,
            CabinetPlan plan,
            OutputTrace trace,
            RehearsedAgent.Beginning beginning) {
        agent = new RehearsedAgent(scenario.cabinet(), plan, scenario.seed(), trace, beginning);
        timeline = new Timeline(scenario, agent);
        agent.cabinet().setWeather(scenario.weather().kelvin(0));
        if (scenario.cabinet().start() == Scenario.Start.SETTLED) {
            for (int i = 0; i < SETTLING_SECONDS; i++) {
                agent.second();
            }
        }
    }

    /**
     * One second more.
     *
     * @return what the agent published in it; empty when it hangs or is down
     */
    public Optional<CabinetSnapshot> second() {
        timeline.reach((double) second++);
        return agent.second();
    }

    /** What a person at the cabinet says to the agent; nobody hears it while that is down. */
    public void say(Command command) {
        agent.say(command);
    }

    /** How it really is in there. */
    public PlantTruth truth() {
        return agent.cabinet().truth();
    }

    @Override
    public void close() {
        agent.close();
    }
}
