package io.evenwarm.link;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertNotEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import io.evenwarm.message.CabinetName;
import io.evenwarm.message.Command;
import io.evenwarm.message.Message;
import io.evenwarm.message.Message.KeyProof;
import java.util.Optional;
import org.junit.jupiter.api.Test;

final class AgentProofTest {

    private static final Identity AGENT = Identity.create("agent");

    private final String nonce = AgentProof.nonce();
    private final KeyProof proof = AgentProof.prove(AGENT, nonce);

    @Test
    void anAgentProvesTheKeyThatItHolds() {
        assertTrue(AgentProof.holds(proof, nonce));
        assertEquals(Optional.of(AGENT.pin()), AgentProof.claimed(proof));
    }

    @Test
    void whatWasRecordedProvesNothingInAnotherSession() {
        String later = AgentProof.nonce();
        assertNotEquals(nonce, later);
        assertFalse(AgentProof.holds(proof, later));
    }

    @Test
    void aKeyThatIsNamedAndNotHeldIsNotProved() {
        Identity other = Identity.create("other");
        KeyProof borrowed =
                new KeyProof(AGENT.publicKey(), AgentProof.prove(other, nonce).signature());
        assertEquals(Optional.of(AGENT.pin()), AgentProof.claimed(borrowed));
        assertFalse(AgentProof.holds(borrowed, nonce));
        assertFalse(AgentProof.holds(new KeyProof(AGENT.publicKey(), "00"), nonce));
    }

    @Test
    void whatIsNoKeyOfOursIsNobodys() {
        for (String key : new String[] {"00", AGENT.publicKey() + "00"}) {
            KeyProof wrong = new KeyProof(key, proof.signature());
            assertEquals(Optional.empty(), AgentProof.claimed(wrong), key);
            assertFalse(AgentProof.holds(wrong, nonce), key);
        }
    }

    /** An agent must not be led to sign a command, nor a monitor to sign a proof. */
    @Test
    void aSignedCommandIsNoProof() {
        Message.SignedCommand command =
                SignedCommands.sign(
                        AGENT,
                        nonce,
                        1,
                        new Message.CommandRequest(
                                1, new Command.Silence(new CabinetName("north"))));
        assertFalse(AgentProof.holds(new KeyProof(command.key(), command.signature()), nonce));
    }
}
