package io.evenwarm.agent.app;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.PrintWriter;
import java.io.StringWriter;
import org.junit.jupiter.api.Test;

final class BenchControlCommandTest {

    private final StringWriter out = new StringWriter();
    private final StringWriter err = new StringWriter();

    private int execute(String... arguments) {
        return AgentMain.execute(new PrintWriter(out), new PrintWriter(err), arguments);
    }

    @Test
    void saysHowEachWayOfControlHeldTheCabinetsAndTheSameSeedSaysTheSame() {
        execute("bench", "control", "--runs", "2", "--seed", "3");
        String first = out.toString();
        assertTrue(first.contains("untuned, mechanical relay, 2 cabinets"), first);
        assertTrue(first.contains("untuned, solid-state relay, 2 cabinets"), first);
        assertTrue(first.contains("10-minute means within 0.10 K"), first);
        out.getBuffer().setLength(0);
        execute("bench", "control", "--runs", "2", "--seed", "3");
        assertEquals(first, out.toString());
        out.getBuffer().setLength(0);
        execute("bench", "control", "--runs", "2", "--seed", "4");
        assertTrue(!first.equals(out.toString()), "another seed, other cabinets");
    }

    @Test
    void refusesANumberOfRunsThatIsNone() {
        assertEquals(ExitCode.BAD_INPUT, execute("bench", "control", "--runs", "0"));
        assertTrue(err.toString().contains("must be 1 to 100000 but was 0"), err.toString());
    }
}
