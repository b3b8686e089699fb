package io.evenwarm.agent.rehearsal;

import io.evenwarm.agent.plan.CabinetPlan;
import io.evenwarm.agent.plant.PlantTruth;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.message.Command;
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
        CabinetPlan plan = ScenarioPlan.of(scenario.cabinet(), name);
        agent = new RehearsedAgent(scenario.cabinet(), plan, scenario.seed(), trace);
        timeline = new Timeline(scenario, agent);
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
