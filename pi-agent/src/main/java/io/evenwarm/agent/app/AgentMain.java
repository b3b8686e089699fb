package io.evenwarm.agent.app;

/** Entry point of {@code evenwarm-agent}. */
public final class AgentMain {

    private AgentMain() {}

    public static void main(String[] arguments) {
        System.out.println("evenwarm-agent");
    }
}
