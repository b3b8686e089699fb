package io.evenwarm.monitor.app;

import static org.junit.jupiter.api.Assertions.assertEquals;

import io.evenwarm.message.AgentName;
import io.evenwarm.message.CabinetName;
import io.evenwarm.message.CabinetSnapshot;
import io.evenwarm.monitor.history.CabinetKey;
import io.evenwarm.monitor.live.LiveModel;
import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Limits for a cabinet that is not there are said to have no effect, with the names that are. */
final class LimitNamesTest {

    private static final AgentName ROOM = new AgentName("egg room");

    private final LiveModel live = new LiveModel(() -> 0, List.of(ROOM));

    private static CabinetKey key(String cabinet) {
        return new CabinetKey(ROOM, new CabinetName(cabinet));
    }

    private void hear(int cabinet) {
        CabinetSnapshot snapshot = AlarmBenchmark.snapshot(0, cabinet, new Random(1));
        live.linkChanged(ROOM, LiveModel.LinkState.up("connected"));
        live.received(ROOM, 1, snapshot);
    }

    private List<String> looks(LimitNames names, int count) {
        List<String> said = new ArrayList<>();
        for (int i = 0; i < count; i++) {
            said.addAll(names.look(live.cabinets()));
        }
        return said;
    }

    @Test
    void aNameThatIsWrittenWronglyIsSaidOnceWithThoseThatAreThere() {
        LimitNames names = new LimitNames(List.of(key("cabinet 1"), key("cabnet 2")));
        assertEquals(List.of(), looks(names, 100), "nothing is known before the agent is heard of");
        hear(1);
        hear(2);
        assertEquals(
                List.of(
                        "[[alarms.cabinet]] of the settings names cabinet \"cabnet 2\" of agent \"egg"
                                + " room\", which tells of \"cabinet 1\", \"cabinet 2\": these limits"
                                + " have no effect until the name is corrected"),
                looks(names, 100));
    }

    @Test
    void aCabinetThatComesAMomentAfterTheOthersIsNotSaidToBeMissing() {
        LimitNames names = new LimitNames(List.of(key("cabinet 1"), key("cabinet 2")));
        hear(1);
        assertEquals(List.of(), looks(names, 20));
        hear(2);
        assertEquals(List.of(), looks(names, 100));
    }
}
