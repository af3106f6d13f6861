import type { ReactNode } from 'react';
import { Tabs as AriaTabs, Tab, TabList, TabPanel } from 'react-aria-components/Tabs';

export interface TabsProps {
  label: string;
  tabs: readonly { key: string; title: string; content: ReactNode }[];
  selected?: string;
  onSelect?: (key: string) => void;
}

/** Pages side by side under one row of titles. */
export function Tabs({ label, tabs, selected, onSelect }: TabsProps) {
  return (
    <AriaTabs
      className="tabs"
      {...(selected === undefined ? {} : { selectedKey: selected })}
      onSelectionChange={(key) => onSelect?.(String(key))}
    >
      <TabList aria-label={label} className="tab-list">
        {tabs.map((tab) => (
          <Tab key={tab.key} id={tab.key} className="tab">
            {tab.title}
          </Tab>
        ))}
      </TabList>
      {tabs.map((tab) => (
        <TabPanel key={tab.key} id={tab.key} className="tab-panel">
          {tab.content}
        </TabPanel>
      ))}
    </AriaTabs>
  );
}
