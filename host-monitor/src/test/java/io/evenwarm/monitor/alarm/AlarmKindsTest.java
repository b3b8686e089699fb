package io.evenwarm.monitor.alarm;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.FindingCode;
import java.lang.reflect.Field;
import java.lang.reflect.Modifier;
import java.util.HashSet;
import java.util.Set;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

/** The list of kinds is complete, and nothing explains itself in a circle. */
final class AlarmKindsTest {

    private static Set<FindingCode> codesOf(Class<?> type) throws IllegalAccessException {
        Set<FindingCode> codes = new HashSet<>();
        for (Field field : type.getFields()) {
            if (Modifier.isStatic(field.getModifiers()) && field.getType() == FindingCode.class) {
                codes.add((FindingCode) field.get(null));
            }
        }
        return codes;
    }

    @Test
    void everyCodeThatAgentsOrTheMonitorFindIsListedOnce() throws IllegalAccessException {
        Set<FindingCode> all = codesOf(FindingCode.class);
        all.addAll(codesOf(AlarmCodes.class));
        assertTrue(all.size() >= 37, "only " + all.size() + " codes were found");
        assertEquals(
                all, AlarmKinds.all().stream().map(AlarmKind::code).collect(Collectors.toSet()));
        assertEquals(all.size(), AlarmKinds.all().size());
    }

    @Test
    void whateverExplainsAnotherIsJudgedBeforeIt() {
        for (AlarmKind kind : AlarmKinds.all()) {
            for (FindingCode cause : kind.explainedBy()) {
                assertTrue(
                        AlarmKinds.rank(cause) < AlarmKinds.rank(kind.code()),
                        cause + " stands after " + kind.code());
            }
        }
    }

    @Test
    void whatNobodyKnowsYetIsOfMediumPriorityAndExplainedByNothing() {
        AlarmKind unknown = AlarmKinds.of(new FindingCode("water-on-the-floor"));
        assertEquals(Priority.MEDIUM, unknown.least());
        assertEquals(AlarmKind.Danger.EITHER, unknown.danger());
        assertEquals(Set.of(), unknown.explainedBy());
    }
}
